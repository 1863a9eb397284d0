"""Arms, cells and targets shared by tests, bench and notebooks."""
