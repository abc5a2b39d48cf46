"""Making: what all kinds of joint share of their files: setups and steps to programs, drawings for the proof, words."""
