"""`flueproof gas`: what is in a bottle, how long it holds, what it can decide."""
