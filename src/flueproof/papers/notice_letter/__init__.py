"""The notice to an owner whose analyzer was found wrong: what it did to the owner's work, and what to do now."""
