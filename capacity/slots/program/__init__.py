"""The program: candidates as columns, rules as rows, and what is worked out from both."""
