// Package bank computes what a battery bank, a motor and a hull give together: energy, range, endurance, charging time
// and what a solar top adds.
//
// A [Bank] is blocks of one [Chemistry] in series and parallel. A [Trial] is a hull's table of power over speed; its
// [Curve] runs through the points and nowhere beyond them. A [Setup] brings bank, motor, drive, curve and [Conditions]
// together; [New] checks it and gives a [Boat], which answers: [Boat.At] a speed, [Boat.TopSpeed],
// [Boat.SpeedForRange], [Boat.RangeCurve]. [Charging] fills the bank from the shore, a [Panel] from the sun.
//
// Left out, always: the sag of the voltage under load (every current is power over nominal voltage, so a bank near its
// limit draws more than is said here), self-discharge, waves, current, shallow water, fouling, and the loss of
// propeller efficiency when wind adds to the load.
//
// Caution: all figures are preliminary and serve quoting and planning. Batteries store enough energy to burn, burst and
// weld; selection, fusing, ventilation, wiring and shore supply are for licensed practice under the rules of the boat's
// waters. What the finished boat does on trial counts, not what is computed here.
//
// Every quantity is a float64 whose name or comment carries its unit. Formulas that stand alone, such as [PeukertAh],
// take any number and are right where their comment says Valid; types with a Validate method are checked before use,
// and then no result is NaN or infinite.
package bank
