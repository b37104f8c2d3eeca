"""Numbers that know why, findings, sources, and the reading of text. Imports nothing else of the project."""
