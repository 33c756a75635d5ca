-- A readings block, kept once.
INSERT INTO block (digest, bytes) VALUES (:digest, :bytes) ON CONFLICT (digest) DO NOTHING
