"""Help for those who write trees: JSON Schemas of the catalogue at hand, scaffolds."""
