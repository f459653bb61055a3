"""Lessons: predict, then see, then explain. A lesson is data; every truth in it is computed by the solver. No Qt."""
