"""What belongs to lesson 03? Its panels and its exercises."""
