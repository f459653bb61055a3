"""From measured or drawn data to a part's numbers: readers, fits, and what is wrong with the data."""
