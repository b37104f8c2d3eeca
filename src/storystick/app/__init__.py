"""Introduces everyone: reads and writes files, keeps the time, talks to the person. The only floor that does."""
