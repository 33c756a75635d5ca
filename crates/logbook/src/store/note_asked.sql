-- Keeps what was asked under a key.
INSERT OR IGNORE INTO asked (act, digest) VALUES (:act, :digest)
