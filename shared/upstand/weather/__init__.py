"""Weather on the roof: what it is now, hour by hour, and which work it allows.

Temperatures are in degrees Fahrenheit, humidity in percent over water as weather services give it.
What is not known stays unknown: a missing surface temperature is never taken from the air, a
missing chance of rain never read as zero.
"""
