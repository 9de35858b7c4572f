"""The store: events of all jobs in one SQLite file, on the disk before anybody is told that they are kept.

The room knows the file, its lock, its one writer and its readers, and turns the database's complaints into sentences.
It refuses to know what an event means: it gives it the next number of its job, keeps its bytes, and hands them back.
"""
