"""Write the golden files anew."""

from tests.golden import write

write()
