"""The plan of the bench: who does which step of which job when, and what that means for the promises."""
