package desk_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"ribband/core/desk"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/spec"
)

// FuzzHandle gives a desk of the small book requests as they come over the bridge, one a line. Whatever they are, each
// is answered, the stored spec can be opened, and an error has changed no boat.
func FuzzHandle(f *testing.F) {
	for _, text := range []string{
		`{"v":1,"act":"open","link":"1/teasel-48/top=top-fixed/00000000","today":"2027-02-06","device":"A"}`,
		`{"v":1,"act":"choose","option":"top-fixed"}` + "\n" + `{"v":1,"act":"undo"}`,
		`{"v":1,"act":"extra","form":{"title":"Flag","price":"40","basis":"net"}}` + "\n" +
			`{"v":1,"act":"discount","form":{"title":"Show","value":"3 %","on":"line-1"}}` + "\n" +
			`{"v":1,"act":"trade-in","form":{"title":"Dinghy","allowance":"300","value":"250"}}` + "\n" +
			`{"v":1,"act":"freeze","form":{"number":"T-1","date":"2027-02-06","name":"Ada"}}`,
		`{"v":1,"act":"file","text":"{\"format\":1,\"hull\":\"teasel-48\"}"}`,
		`{"v":1,"act":"deals","text":"[{\"id\":\"a\",\"state\":\"draft\",\"revision\":1,\"saved\":\"x\"}]","value":"ada"}`,
		`{"v":1,"act":"deals-export","text":"[]","value":"2027-02-06T08:00:00Z"}`,
		`{"v":1,"act":"deals-merge","text":"[]"}`,
		`{"v":1,"act":"deals-compare","text":"[{},{}]"}`,
		`{"v":1,"act":"use","field":"persons","value":"1e999"}` + "\n" + `{"v":1,"act":"rest"}`,
		`{"v":1,"act":"keep","slot":"top","checked":true}` + "\n" + `{"v":1,"act":"reason"}`,
		`{"v":1,"act":"open","past":[{"did":{"act":"use","of":"x","back":-1},"spec":"{}"}],` +
			`"given":["1"],"seen":["price"]}`,
		`{"v":2}`, `null`,
	} {
		f.Add([]byte(text))
	}
	e, err := engine.Compile(small()[pack.Show])
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		d, err := desk.New(e)
		if err != nil {
			t.Fatal(err)
		}
		before := d.Handle(desk.Request{Version: desk.Version, Act: "open", Seen: []string{}})
		for i, line := range bytes.Split(text, []byte("\n")) {
			var r desk.Request
			if i == 4 || json.Unmarshal(line, &r) != nil {
				return
			}
			if r.Seen == nil {
				r.Seen = []string{} // panels have a test of their own
			}
			reply := d.Handle(r)
			if _, err := spec.Decode([]byte(reply.Spec)); err != nil || reply.ID != r.ID || reply.Link == "" {
				t.Fatalf("%s is answered by %+v (%v)", line, reply, err)
			}
			if reply.Error != "" && reply.Spec != before.Spec {
				t.Fatalf("%s failed with %q, and changed the boat to %s", line, reply.Error, reply.Spec)
			}
			before = reply
		}
	})
}
