"""What belongs to lesson 06? Its panels and its exercises."""
