"""How a channel follows a step of gas: model, prior, noise and the posterior of where it goes."""
