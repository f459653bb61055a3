"""What the window holds: the document with its history, and the view. No Qt."""
