"""What a judgement obliges the shop to do, and the words for it."""
