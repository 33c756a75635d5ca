DELETE FROM name WHERE noun = :noun AND place = :place
