"""What several cells together can get wrong: one module a subject."""
