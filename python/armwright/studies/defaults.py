"""What the studies do unless told otherwise."""

directions, spins = 60, 4  # tool attitudes at a position
level_directions = 24  # all round, for a level tool
track_step = 0.05  # m, between track positions tried for a work point
order = ("limit_margin", "clearance", "payload", "manipulability")  # what makes a posture the best
also = ("clearance_spare",)  # and what else can: the clearance beyond what each solid asks for
