"""Gas rack: cylinders, references, gas left."""
