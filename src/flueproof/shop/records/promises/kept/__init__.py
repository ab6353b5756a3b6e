"""How promises were kept, and what becomes of a broken one."""
