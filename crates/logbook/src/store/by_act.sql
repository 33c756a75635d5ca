SELECT entry.bytes, entry.leaf FROM entry JOIN log ON log.id = entry.log
WHERE entry.act = :act AND log.standing = 'own' ORDER BY entry.place
