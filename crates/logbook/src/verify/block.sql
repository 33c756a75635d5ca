-- One readings block, by its digest.
SELECT bytes FROM block WHERE digest = ?1
