-- A withdrawn thing gives its name back.
DELETE FROM name WHERE noun = :noun AND place = :place
