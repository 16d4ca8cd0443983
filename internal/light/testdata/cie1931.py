# Writes cie1931_2deg.csv: the CIE 1931 2 degree colour matching functions as
# Debian's python3-colormath carries them (340 to 830 nm, every 10 nm).
from colormath import spectral_constants as c

print("nm,x,y,z")
for i, (x, y, z) in enumerate(zip(c.STDOBSERV_X2, c.STDOBSERV_Y2, c.STDOBSERV_Z2)):
    print(f"{340 + 10 * i},{float(x):.10g},{float(y):.10g},{float(z):.10g}")
