SELECT entry.bytes, turn.starts FROM turn JOIN entry ON entry.place = turn.place
WHERE turn.place >= :from AND turn.place < :to ORDER BY turn.place
