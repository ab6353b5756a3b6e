"""How sure a computed figure is: what readings owe to their channels and to causes that they share."""
