[Version] 2.0
# Hz S RI R 50
[Number of Ports] 2
[Two-Port Data Order] 12_21
[Mixed-Mode Order] D1,2 C1,2
