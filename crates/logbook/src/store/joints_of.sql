-- Joints added to a part, in order of making.
SELECT entry.id FROM about CROSS JOIN entry ON entry.place = (about.log << 40) | about.seq
WHERE about.subject = :part AND entry.kind = 'joint' ORDER BY entry.place
