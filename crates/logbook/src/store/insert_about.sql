INSERT INTO about (subject, log, seq, n) VALUES (:subject, :log, :seq, :n)
