"""Simulated callers: analyzers with planted faults, what their owners see of them, and how badly they tell it.

`calling.draw_calls(count, seed)` yields calls. Behind each: one cause, or two (about 6 %), drawn by weights that hang
on the age of the cells and the month (data/figures.toml); a `Truth` of the simulated analyzer and a `Scene` around it.

From the physics: every figure that is shown (O2, CO, CO2, temperatures, draft, own test gas), whether it starts, what a
plugged pump does, how long it takes to settle, and all that the bench measures, with bottles, repeats, display steps.
From stated shares: what is handled and what is seen with the eye (dropped, new filter, a seal that shows), and people:
what they have at hand, do not know, get wrong, how they put their complaint. Each question has its own chance, drawn
from the seed, the number of the call and the question, so that no answer hangs on the order of asking.

Simpler than life: errors of different questions are independent; a caller is as good at all of them; nobody calls about
an analyzer that is well, but for the causes that are no fault; no fault comes and goes but in words; the second of two
causes is one of six; water, cold and soot are stated, not computed. A fault finder must not read the data files, nor
learn from the calls that it is measured on.
"""
