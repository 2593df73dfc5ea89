package calc

import "encoding/json"

// Renamed is a plan in JSON with each field of a border under today's name: what was written
// under an earlier one is not written so again. What is no plan, or has no earlier name in it,
// comes back as it is.
func Renamed(plan json.RawMessage) json.RawMessage {
	var o map[string]json.RawMessage
	var borders []map[string]json.RawMessage
	if json.Unmarshal(plan, &o) != nil || json.Unmarshal(o["borders"], &borders) != nil {
		return plan
	}
	renamed := false
	for _, border := range borders {
		for earlier, now := range otherNames {
			value, had := border[earlier]
			if _, has := border[now]; had && !has {
				border[now], renamed = value, true
				delete(border, earlier)
			}
		}
	}
	if !renamed {
		return plan
	}
	all, err := json.Marshal(borders)
	if err != nil {
		return plan
	}
	o["borders"] = all
	if all, err = json.Marshal(o); err != nil {
		return plan
	}
	return all
}
