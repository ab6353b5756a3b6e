"""The slip that travels in the box: code, packing list with drawings, cautions, where it goes."""
