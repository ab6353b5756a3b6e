"""What the shop keeps: the shared models and the services that write them."""
