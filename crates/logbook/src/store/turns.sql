-- Entries of a log at which time may have turned, in their order.
SELECT entry.bytes, turn.starts FROM turn JOIN entry ON entry.place = turn.place
WHERE turn.place >= :from AND turn.place < :to ORDER BY turn.place
