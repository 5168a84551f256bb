package capacity

import (
	"fmt"
	"math"
	"ribband/core/suggest"
	"slices"

	"ribband/core/msg"
)

// Part is something of the boat that is under water when it is swamped.
type Part struct {
	Name     msg.Message
	Material string // an id of [Materials]
	KG       float64
}

// Swamped is what the flotation is worked out from.
type Swamped struct {
	Parts       []Part  // hull, deck, fixed gear by material
	MachineryKG float64 // motor, drive and fixed accessories, installed dry mass, without batteries
	Batteries   []Battery
	Chambers    []Chamber
	Foam        FoamKind
	Basis       Basis
}

// FoamLine is one thing that the flotation holds up, or that lifts.
type FoamLine struct {
	Name      msg.Message `json:"name"`
	Dry       Mass        `json:"dry"`
	Factor    float64     `json:"factor"`
	Submerged Mass        `json:"submerged"`
	Source    msg.Message `json:"source"`
}

// Foam is the flotation that a boat needs.
type Foam struct {
	Applies  bool          `json:"applies"`
	Sentence msg.Message   `json:"sentence"`
	Basis    string        `json:"basis"`
	Lines    []FoamLine    `json:"lines,omitempty"`
	Boat     Mass          `json:"boat"`      // submerged hull, deck and gear
	Machines Mass          `json:"machinery"` // submerged machinery and batteries
	Load     Mass          `json:"load"`      // persons, dead weight and the two largest air chambers
	Chambers Mass          `json:"chambers"`  // lift of all air chambers, taken off
	Total    Mass          `json:"total"`     // what the foam holds up
	Net      Density       `json:"net_buoyancy"`
	Volume   Volume        `json:"volume"`    // computed
	Provide  Volume        `json:"provide"`   // rounded up to whole litres
	FoamMass Mass          `json:"foam_mass"` // of the volume to provide, dry
	Notes    []msg.Message `json:"notes,omitempty"`
}

// Flotation is the basic flotation of an inboard boat under 20 ft: foam so that some part of the swamped boat stays
// above water.
//
//	F = (Σ(Wi·Ki) + 0.75·M + Σ(Bj·kj) + L + 62.4·(V1 + V2) - Σ(62.4·V - m)) / B
//
// F volume of foam in ft³, never below nothing; Wi dry weight of a part in lb, Ki its factor ([Materials]); M installed
// dry weight of machinery in lb; Bj dry weight of a battery in lb, kj its share ([LeadAcidShare]; else 1 - 62.4·V/W
// from its sealed case, not below 0); L swamped load in lb ([SwampedLoad]) of the marked capacities; V1, V2 the two
// largest air chambers in ft³, V and m volume and own weight of each chamber; B net buoyancy of the foam in lb/ft³
// ([NetBuoyancy]). The volume to provide is rounded up to whole litres; the rule states no rounding. The rule says
// nothing of where the foam goes: high and outboard keeps a swamped boat from rolling over (common practice, no
// source).
//
// Valid: marks made by [PersonsCapacity]; masses from 0 to 50 t; at 20 ft and above the result says that there is no
// duty.
// Source: 33 CFR 183.101, .105, .112; US Coast Guard, Boatbuilder's Handbook, Flotation, basic; 0.75 from memory.
func Flotation(b Boat, p Persons, s Swamped) (Foam, error) {
	sentence, err := small(b, BasicFlotation)
	if err != nil || !sentence.Empty() {
		return Foam{Sentence: sentence}, err
	}
	in := inputs{doing: "working out the flotation foam"}
	f := Foam{Applies: true, Basis: s.Basis.String(), Net: s.Foam.net(&in)}
	f.parts(&in, s.Parts)
	f.machines(&in, s)
	f.loads(&in, p, s)
	if err := in.err(); err != nil {
		return Foam{}, err
	}
	f.fill(s.Foam)
	if p.Provisional {
		f.Notes = append(f.Notes, msg.New("capacity.foam-provisional"))
	}
	f.Notes = append(f.Notes, BilgeNote(), msg.New("capacity.foam-trial"))
	return f, nil
}

func bothSources(source, status msg.Message) msg.Message {
	return msg.New("capacity.sources", msg.Words("source", source), msg.Words("status", status))
}

func (f *Foam) line(name msg.Message, dry Mass, factor float64, source msg.Message) float64 {
	sub := float64(dry.LB * factor)
	f.Lines = append(f.Lines, FoamLine{name, dry, factor, Pounds(sub), source})
	return sub
}

func (f *Foam) parts(in *inputs, parts []Part) {
	sum := 0.0
	for i, p := range parts {
		name := fmt.Sprintf("part %d %q", i+1, suggest.Clip(p.Name.String(), 40))
		m, err := FindMaterial(p.Material)
		if err != nil {
			in.wrong("%s: %w", name, err)
		}
		if in.mass(name, p.KG); err == nil {
			sum += f.line(p.Name, Kilograms(p.KG), m.Factor, bothSources(m.Source, m.Status))
		}
	}
	if len(parts) == 0 {
		in.wrong("there are no parts: give hull, deck and fixed gear by material")
	}
	f.Boat = Pounds(sum)
}

func (f *Foam) machines(in *inputs, s Swamped) {
	in.mass("the machinery", s.MachineryKG)
	sum := f.line(msg.New("capacity.machinery"), Kilograms(s.MachineryKG), MachineryShare, bothSources(handbook,
		recalled))
	for i, b := range s.Batteries {
		name := fmt.Sprintf("battery %d %q", i+1, suggest.Clip(b.Name.String(), 40))
		in.mass(name, b.KG)
		in.number("the sealed volume of "+name, b.SealedM3, 0, mostVolume, "m³",
			"give the outside volume of cases that stay dry, or 0")
		source := msg.New("capacity.source-case")
		if b.LeadAcid {
			source = msg.New("capacity.source-lead")
		}
		sum += f.line(b.Name, Kilograms(b.KG), b.share(), source)
	}
	f.Machines = Pounds(sum)
}

func (f *Foam) loads(in *inputs, p Persons, s Swamped) {
	if !p.Applies || p.Marked < 1 {
		in.wrong("no persons capacity is marked: work it out with PersonsCapacity first")
	}
	load, err := SwampedLoad(float64(p.Marked), float64(p.WeightLB), s.Basis)
	if err != nil {
		in.errs = append(in.errs, err)
	}
	lift, volumes := 0.0, []float64{0, 0}
	for i, c := range s.Chambers {
		name := fmt.Sprintf("air chamber %d %q", i+1, suggest.Clip(c.Name, 40))
		in.number("the volume of "+name, c.VolumeM3, 0, mostVolume, "m³", "give cubic metres")
		in.mass(name, c.KG)
		if c.Integral {
			in.wrong("%s is integral with the hull, which does not count (33 CFR 183.112(b)): take it out, or fill it "+
				"with foam", name)
		}
		v := CubicMetres(c.VolumeM3).FT3
		volumes = append(volumes, v)
		lift += Lift(v, WaterLBFT3, Kilograms(c.KG).LB)
	}
	slices.Sort(volumes)
	largest := volumes[len(volumes)-2:]
	f.Load = Pounds(load + float64(WaterLBFT3*(largest[0]+largest[1])))
	f.Chambers = Pounds(lift)
}

// fill works out the volume from what there is to hold up.
func (f *Foam) fill(k FoamKind) {
	total := f.Boat.LB + f.Machines.LB + f.Load.LB - f.Chambers.LB
	f.Total = Pounds(total)
	f.Volume = CubicFeet(max(0, total) / f.Net.LBFT3)
	litres := (int64(math.Round(f.Volume.M3*1e6)) + 999) / 1000
	f.Provide = CubicMetres(float64(litres) / 1000)
	f.FoamMass = Kilograms(f.Provide.M3 * k.DensityKGM3)
	f.Sentence = msg.New("capacity.foam", msg.Number("ft3", f.Volume.FT3, 2), msg.Number("m3", f.Volume.M3, 3),
		msg.Number("lb", f.Total.LB, 1), msg.Number("kg", f.Total.KG, 1), msg.Count("litres", litres))
	if total <= 0 {
		f.Sentence = msg.New("capacity.foam-none")
		f.Notes = append(f.Notes, msg.New("capacity.foam-wood"))
	}
}
