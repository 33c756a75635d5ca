INSERT OR IGNORE INTO asked (act, digest) VALUES (:act, :digest)
