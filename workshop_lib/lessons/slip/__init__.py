"""What belongs to lesson 02? Its panels and its exercises."""
