"""Where the base, the track or the parked arm should stand."""
