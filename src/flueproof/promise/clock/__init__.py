"""The promise clock: from what happened to a job, the day it is promised for and what stands in its way."""
