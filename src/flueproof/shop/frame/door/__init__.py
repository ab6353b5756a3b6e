"""The door of the shop: whom wrong passwords are counted for, and what closes it for a while."""
