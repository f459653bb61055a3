[Version] 2.0
# Hz Z RI R 50
[Number of Ports] 1
[Network Data]
1000000 10 40
10000000 120 150
100000000 400 -80
