"""Many cases from one: a grid or a list over any values, evaluated on all cores, written as one table. No Qt."""
