SELECT digest FROM asked WHERE act = :act
