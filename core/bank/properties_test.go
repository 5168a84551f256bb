package bank_test

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/bank"
)

func anyChemistry(t *rapid.T) bank.Chemistry {
	return rapid.SampledFrom([]bank.Chemistry{bank.LiFePO4(), bank.AGM(), bank.Gel(), bank.Flooded()}).Draw(t,
		"chemistry")
}

func anyBank(t *rapid.T) bank.Bank {
	return bank.Bank{
		Chemistry: anyChemistry(t),
		Block: bank.Block{
			VoltageV:   rapid.SampledFrom([]float64{3.2, 6, 12, 25.6, 51.2}).Draw(t, "voltage"),
			CapacityAh: rapid.Float64Range(20, 400).Draw(t, "capacity"),
			MassKg:     rapid.Float64Range(1, 80).Draw(t, "mass"),
			MostA:      rapid.SampledFrom([]float64{0, 50, 100, 300}).Draw(t, "most"),
			MostInA:    rapid.SampledFrom([]float64{0, 20, 50}).Draw(t, "most in"),
			RatedHours: rapid.SampledFrom([]float64{0, 1, 5, 20}).Draw(t, "rated"),
		},
		Series: rapid.IntRange(1, 16).Draw(t, "series"), Parallel: rapid.IntRange(1, 6).Draw(t, "parallel"),
	}
}

func anyState(t *rapid.T) bank.State {
	return bank.State{TemperatureC: rapid.Float64Range(0, 40).Draw(t, "temperature"),
		Age: rapid.Float64Range(0, 1).Draw(t, "age")}
}

// anyTrial draws a table in which power grows with a power of speed, as it does for hulls.
func anyTrial(t *rapid.T) bank.Trial {
	n := rapid.IntRange(4, 12).Draw(t, "points")
	exponent, factor := rapid.Float64Range(2.5, 5).Draw(t, "exponent"), rapid.Float64Range(3, 20).Draw(t, "factor")
	table := bank.Trial{DisplacementKg: rapid.Float64Range(300, 3000).Draw(t, "displacement"),
		AtShaft: rapid.Bool().Draw(t, "at shaft")}
	for i := range n {
		v := 2 + 4*float64(i)/float64(n-1)
		table.Points = append(table.Points, bank.Point{SpeedKn: v, PowerW: factor * math.Pow(v, exponent)})
	}
	return table
}

func anySetup(t *rapid.T) bank.Setup {
	table := anyTrial(t)
	return bank.Setup{
		Bank: anyBank(t), State: anyState(t), Curve: mustCurve(table),
		Motor: bank.Motor{
			ShaftW:      rapid.Float64Range(500, 20000).Draw(t, "shaft"),
			ControllerA: rapid.Float64Range(20, 600).Draw(t, "controller"),
			Efficiency:  rapid.Float64Range(0.5, 0.95).Draw(t, "motor"),
		},
		Drive: bank.Drive{Transmission: rapid.Float64Range(0.8, 1).Draw(t, "transmission"),
			Propeller: rapid.Float64Range(0.2, 0.7).Draw(t, "propeller")},
		Windage: bank.Windage{HullM2: rapid.Float64Range(0, 3).Draw(t, "hull"),
			TopM2: rapid.Float64Range(0, 4).Draw(t, "top"), Drag: rapid.Float64Range(0, 2).Draw(t, "drag")},
		Conditions: bank.Conditions{
			DisplacementKg: table.DisplacementKg * rapid.Float64Range(0.6, 1.9).Draw(t, "load"),
			HeadWindMS:     rapid.Float64Range(0, 15).Draw(t, "wind"),
			AirDensity:     1.225, HotelW: rapid.Float64Range(0, 400).Draw(t, "hotel"),
			Reserve: rapid.Float64Range(0, 0.5).Draw(t, "reserve"),
		},
	}
}

// finite wants every number inside a value to be one, and none below zero.
func finite(t *rapid.T, what string, v any) {
	t.Helper()
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Float64:
			if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) || f < 0 {
				t.Fatalf("%s: %v among %+v", what, f, v)
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		}
	}
	walk(reflect.ValueOf(v))
}

func TestPropertyUsableFallsWithCurrent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, s := anyBank(t), anyState(t)
		low := rapid.Float64Range(0, 2000).Draw(t, "low")
		high := low + rapid.Float64Range(0, 2000).Draw(t, "more")
		slow, err := b.Usable(low, s)
		fast, err2 := b.Usable(high, s)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		if fast.KWh > slow.KWh || slow.Peukert > 1 {
			t.Fatalf("%v kWh at %v A, %v kWh at %v A", slow.KWh, low, fast.KWh, high)
		}
		finite(t, "usable", slow)
		finite(t, "usable", fast)
	})
}

// However its blocks are joined, a bank has the same energy, and gives the same at the same power.
func TestPropertySeriesOrParallel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, s := anyBank(t), anyState(t)
		b := a
		b.Series, b.Parallel = a.Parallel, a.Series
		power := rapid.Float64Range(0, 50000).Draw(t, "power")
		one, err := a.Usable(power/a.VoltageV(), s)
		two, err2 := b.Usable(power/b.VoltageV(), s)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		if !near(a.EnergyKWh(), b.EnergyKWh(), 1e-12) || !near(one.KWh, two.KWh, 1e-9) || a.MassKg() != b.MassKg() {
			t.Fatalf("%v of %v kWh against %v of %v kWh", one.KWh, a.EnergyKWh(), two.KWh, b.EnergyKWh())
		}
	})
}

// The rated form, its capped capacity and the 1-A form tell the same story; two runs give back the exponent.
func TestPropertyPeukertForms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, h := rapid.Float64Range(10, 1000).Draw(t, "capacity"),
			rapid.SampledFrom([]float64{1, 5, 10, 20}).Draw(t, "rated")
		k := rapid.Float64Range(1, 1.6).Draw(t, "exponent")
		amps := c / h * rapid.Float64Range(1.001, 40).Draw(t, "times")
		hours := bank.PeukertHours(c, h, k, amps)
		if !near(bank.PeukertAh(c, h, k, amps), amps*hours, 1e-9) {
			t.Fatalf("%v Ah, %v A for %v h", bank.PeukertAh(c, h, k, amps), amps, hours)
		}
		if !near(bank.OneAmpere(c, h, k).Hours(k, amps), hours, 1e-9) {
			t.Fatalf("the 1-A form gives %v h, not %v", bank.OneAmpere(c, h, k).Hours(k, amps), hours)
		}
		found, err := bank.PeukertExponent(bank.Run{CurrentA: c / h, Hours: h}, bank.Run{CurrentA: amps, Hours: hours})
		if err != nil || math.Abs(found-k) > 1e-6 {
			t.Fatalf("exponent %v, %v, want %v", found, err, k)
		}
	})
}

// The curve goes through its points, never falls and never leaves the powers at both sides.
func TestPropertyCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := bank.Trial{DisplacementKg: 900}
		v, w := rapid.Float64Range(0.1, 3).Draw(t, "speed"), rapid.Float64Range(1, 200).Draw(t, "power")
		for range rapid.IntRange(4, 10).Draw(t, "points") {
			table.Points = append(table.Points, bank.Point{SpeedKn: v, PowerW: w})
			v += rapid.Float64Range(0.02, 3).Draw(t, "faster")
			w += rapid.Float64Range(0.001, 5000).Draw(t, "more")
		}
		c := mustCurve(table)
		for i, p := range table.Points {
			if got, err := c.PowerW(p.SpeedKn); err != nil || !near(got, p.PowerW, 1e-9) {
				t.Fatalf("point %d: %v, %v", i+1, got, err)
			}
		}
		from, to := c.Range()
		last := 0.0
		for i := range 201 {
			got, err := c.PowerW(math.Min(from+(to-from)*float64(i)/200, to))
			if err != nil || got < last*(1-1e-9) {
				t.Fatalf("%v W after %v W, %v", got, last, err)
			}
			last = got
		}
	})
}

// From the speed of the farthest range on, range falls; every number is one.
func TestPropertyRangeFallsWithSpeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, err := bank.New(anySetup(t))
		if err != nil {
			t.Fatal(err)
		}
		curve, err := b.RangeCurve(60)
		var fast *bank.TooFastError
		if errors.As(err, &fast) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		finite(t, "curve", curve)
		farthest := 0
		for i, p := range curve {
			if p.RangeNm > curve[farthest].RangeNm {
				farthest = i
			}
		}
		for i := farthest + 1; i < len(curve); i++ {
			if curve[i].RangeNm > curve[i-1].RangeNm*(1+1e-9) {
				t.Fatalf("%v nm at %v kn after %v nm at %v kn", curve[i].RangeNm, curve[i].SpeedKn, curve[i-1].RangeNm,
					curve[i-1].SpeedKn)
			}
		}
	})
}

// The speed found for a range has it, and a little more speed has not; where none is found, none of the curve has it.
func TestPropertySpeedForRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, err := bank.New(anySetup(t))
		if err != nil {
			t.Fatal(err)
		}
		top, _, err := b.TopSpeed()
		if err != nil {
			return
		}
		wanted := rapid.Float64Range(0.1, 200).Draw(t, "wanted")
		p, err := b.SpeedForRange(wanted)
		var far *bank.OutOfRangeError
		if errors.As(err, &far) {
			if curve, _ := b.RangeCurve(40); curve[0].RangeNm >= wanted || far.Farthest.RangeNm >= wanted {
				t.Fatalf("%v nm is there: %v", wanted, err)
			}
			return
		}
		if err != nil || p.RangeNm < wanted || p.SpeedKn > top {
			t.Fatalf("%v nm at %v kn, want %v nm; %v", p.RangeNm, p.SpeedKn, wanted, err)
		}
		if faster := p.SpeedKn + bank.ToleranceKn; faster < top {
			if q, err := b.At(faster); err != nil || q.RangeNm >= wanted*(1+1e-9) {
				t.Fatalf("%v kn has %v nm too, %v", faster, q.RangeNm, err)
			}
		}
	})
}

// More displacement, wind, hotel load or age never adds range.
func TestPropertyLoadsCost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySetup(t)
		s.Motor.ShaftW, s.Motor.ControllerA, s.Bank.Block.MostA = 1e6, 1e5, 0
		worse := s
		switch rapid.SampledFrom([]string{"displacement", "wind", "hotel", "age", "top"}).Draw(t, "what") {
		case "displacement":
			worse.Conditions.DisplacementKg *= 1.05
		case "wind":
			worse.Conditions.HeadWindMS += 2
		case "hotel":
			worse.Conditions.HotelW += 50
		case "age":
			worse.State.Age = 1
		case "top":
			worse.Windage.TopM2 += 1
		}
		a, err := bank.New(s)
		b, err2 := bank.New(worse)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		v := rapid.Float64Range(2, 6).Draw(t, "speed")
		p, err := a.At(v)
		q, err2 := b.At(v)
		if err != nil || err2 != nil || q.RangeNm > p.RangeNm*(1+1e-12) {
			t.Fatalf("%v nm, then %v nm; %v %v", p.RangeNm, q.RangeNm, err, err2)
		}
	})
}

// A larger charger is never slower, and no faster once inlet or bank hold it down.
func TestPropertyCharging(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBank(t)
		small := bank.Charging{
			Bank: b, State: anyState(t),
			Charger: bank.Charger{VoltageV: b.VoltageV() * 1.15,
				CurrentA: rapid.Float64Range(1, 100).Draw(t, "current"), Efficiency: 0.9, PowerFactor: 0.95},
			Inlet: bank.Inlet{VoltageV: 230, RatedA: rapid.SampledFrom([]float64{6, 10, 16, 32}).Draw(t, "inlet"),
				Continuous: bank.Continuous},
		}
		large := small
		large.Charger.CurrentA *= rapid.Float64Range(1, 4).Draw(t, "times")
		soc := rapid.Float64Range(0, 1).Draw(t, "state")
		p, err := small.From(soc)
		q, err2 := large.From(soc)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		finite(t, "charge", p)
		if q.TotalH > p.TotalH*(1+1e-12) || (p.Limit != bank.ChargerCurrent && q.TotalH != p.TotalH) {
			t.Fatalf("%v h at %v A, %v h at %v A", p.TotalH, p.CurrentA, q.TotalH, q.CurrentA)
		}
		if p.MainsA > small.Inlet.ContinuousA()*(1+1e-12) {
			t.Fatalf("%v A from an inlet for %v A", p.MainsA, small.Inlet.ContinuousA())
		}
		last := soc
		for i := range 11 {
			now, err := small.After(soc, p.TotalH*float64(i)/10)
			if err != nil || now < last-1e-12 || now > 1 {
				t.Fatalf("state of charge %v after %v, %v", now, last, err)
			}
			last = now
		}
		if math.Abs(last-1) > 1e-9 {
			t.Fatalf("full after %v h is %v", p.TotalH, last)
		}
	})
}
