"""The physics of a simulated analyzer: gas path, cells, sensors, response in time, display, bottles."""
