"""What we hold against the analyzer: blends and certificates, cylinder contents, humid air, dilution."""
