SELECT bytes FROM block WHERE digest = ?1
