[Version] 2.0
# Hz S RI R 50
[Number of Ports] 1
[Colour] red
