"""The steps from each form of the store to the next, run by Alembic."""
