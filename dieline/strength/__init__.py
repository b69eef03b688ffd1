"""Will it hold: from papers to board, from board to box, from box to pallet and stack."""
