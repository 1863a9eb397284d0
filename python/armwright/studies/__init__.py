"""Studies: sweeps of the core over grids and work points, labelled."""
