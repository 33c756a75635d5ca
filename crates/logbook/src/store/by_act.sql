-- The entries of one act of the own log, in their order.
SELECT entry.bytes, entry.leaf FROM entry JOIN log ON log.id = entry.log
WHERE entry.act = :act AND log.standing = 'own' ORDER BY entry.place
