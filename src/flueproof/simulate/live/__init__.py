"""A simulated analyzer in real time: the physics of the written visits, second by second, on a port."""
