SELECT value FROM home WHERE key = :key
