-- The size of a log.
SELECT size FROM log WHERE num = :num
