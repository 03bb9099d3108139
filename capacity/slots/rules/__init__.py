"""One file a family of rules, one value each; ``families.py`` lists them all."""
