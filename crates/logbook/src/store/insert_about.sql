-- An entry counts about a subject.
INSERT INTO about (subject, log, seq, n) VALUES (:subject, :log, :seq, :n)
