"""What belongs to lesson 07? Its panels and its exercises."""
