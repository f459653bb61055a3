"""The widgets: the only home of PySide6 and pyqtgraph. Each renders a spec and tells what a person did by signals."""
