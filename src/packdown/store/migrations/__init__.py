"""How the tables came to be, one revision after the other; Alembic runs them."""
