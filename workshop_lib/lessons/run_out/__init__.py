"""What belongs to lesson 05? Its panels and its exercises."""
