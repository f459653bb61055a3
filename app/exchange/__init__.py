"""Results for other programs: tables in CSV, Touchstone, and the surroundings as an equivalent network. No Qt."""
