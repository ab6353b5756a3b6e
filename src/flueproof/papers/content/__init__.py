"""What stands on the papers, as ready text: no type setting here, no numbers computed beyond unit and rounding."""
