"""What belongs to lesson 08? Its panels and its exercises."""
