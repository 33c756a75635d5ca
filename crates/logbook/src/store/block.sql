SELECT bytes FROM block WHERE digest = :digest
