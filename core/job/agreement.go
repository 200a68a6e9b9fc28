package job

import "strings"

// apart are words for an agreement made away from the shop.
var apart = []string{"phone", "telephone", "online", "mail", "message", "video", "at home", "doorstep"}

// Agreement says what an agreement made away from the shop calls for: the
// right to cancel is told, and a wish to start before it ends is put on
// record. It is "" for one made at the shop, or where nobody says.
//
// That such a right is common: from memory, no document seen; whether it holds
// here is for the local authority to say.
func (r *Result) Agreement() string {
	agreed := strings.ToLower(r.Job.Owner.Agreed)
	for _, w := range apart {
		if strings.Contains(agreed, w) {
			return "Agreed " + r.Job.Owner.Agreed + ": the owner may have a right to cancel. Tell them of it, and record their express request " +
				"if work is to start before it ends (from memory; check with your local authority)."
		}
	}
	return ""
}
