"""The picture of the week."""
