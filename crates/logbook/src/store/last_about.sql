SELECT n FROM about WHERE subject = :subject AND log = :log ORDER BY seq DESC LIMIT 1
