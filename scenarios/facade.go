package scenarios

import "piececost/scenarios/handedits"

// What the rooms below take and give.
type (
	Edit   = handedits.Edit
	Remark = handedits.Remark
)
