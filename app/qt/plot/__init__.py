"""The plots: drawing functions in logical pixels, shared by screen and export."""
