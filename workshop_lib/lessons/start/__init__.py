"""What belongs to lesson 00? Its panels and its exercises."""
