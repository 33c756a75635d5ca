-- What was asked under a key: its digest.
SELECT digest FROM asked WHERE act = :act
