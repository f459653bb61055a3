"""The network between the regions, reduced to the pair without a reference node."""
