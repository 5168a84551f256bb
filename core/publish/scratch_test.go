package publish_test
import ("testing";"os";"time";"ribband/core/publish";"ribband/core/pack")
func TestScratch(t *testing.T){
	folder := os.DirFS(demoBook)
	packs, _, problems, err := publish.Load(folder)
	if err != nil || len(problems) > 0 { t.Fatal(err, problems) }
	b:=time.Now()
	p, ref, err := publish.Prove(folder, packs[pack.Yard])
	if err!=nil { t.Fatal(err) }
	t.Log(time.Since(b))
	for _,o:=range p.Open { t.Log(o) }
	for _,o:=range ref { t.Log(o.Error()) }
}
