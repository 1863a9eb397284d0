"""Many designs of one cell: its numbers by name, answers, sweeps, changes, uncertainty."""
