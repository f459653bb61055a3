"""The plots: drawing functions in logical pixels, hosted on pyqtgraph's view box, shared by screen and export."""
