SELECT size FROM log WHERE num = :num
