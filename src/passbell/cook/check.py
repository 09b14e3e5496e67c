"""Every problem a plan has before it is cooked: what `check` and the plan list say."""


