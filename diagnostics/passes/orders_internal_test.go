package passes

import "testing"

func TestOrderSaysWhoLeads(t *testing.T) {
	was := []Lead{{"chest", 0}, {"head", 2}, {"hips", 3}, {"left arm", 4}, {"right arm", 5}}
	for _, tt := range []struct {
		became []Lead
		want   string
	}{
		{[]Lead{{"chest", 0}, {"head", 2}, {"hips", 3}, {"left arm", 6}, {"right arm", 5}},
			"behind chest: left arm +4 -> +6 frames"},
		{[]Lead{{"head", 0}, {"chest", 1}, {"hips", 3}, {"left arm", 4}, {"right arm", 5}},
			"chest led, now head: head +2 -> 0, chest 0 -> +1 frames"},
	} {
		o := Order{Was: was, Became: tt.became}
		if got := o.String(); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
	few := Order{Was: was[:2], Became: []Lead{{"head", 0}, {"chest", 1}}}
	if got := few.String(); got != "chest, head +2 -> head, chest +1" {
		t.Errorf("%q", got)
	}
}
