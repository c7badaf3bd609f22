"""What is where: the store, a database of pieces owned, containers, plans and their history.

`connection` alone opens it. Reading needs no library but SQLite's; what writes is in `stowing`,
`moving`, `counting` and `undoing`, each change one transaction in the `journal`.
"""
