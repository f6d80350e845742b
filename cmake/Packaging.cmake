# filled later
