"""What is known: causes, what is seen under each and how likely, priors by situation; read and checked."""
