/** What stands behind each monitor's numbers; by monitor id. */
export const MONITOR_STANDING: Readonly<Record<string, string>> = {
  lowGain:
    "2 dB under expected and 2 ms: estimate, to be confirmed by trials on speech; an absolute floor of 12 dB is common practice, no source.",
  gridTimed:
    "Grid rating 150 mA of the generic pair; 100 ms outlasts a mains dip of 60 ms at VSWR 1.5, which 50 ms did not: own trial.",
  gridFast: "A little over twice the rating; 15 ms is an estimate.",
  overdrive: "Full drive 62 W; 1.6 and 2.9 times that are estimates. 25 W in tune mode: estimate.",
  reflectedPower: "VSWR 2 at full output is 161 W reflected; VSWR 3 is common practice, no source.",
  plateInstantaneous: "Twice the rating: common practice, no source.",
  plateTimed: "A little over the continuous rating for a few seconds: common practice, no source.",
  plateRfOvervoltage: "Normal peak 2.5 kV, open load 3.7 kV; between the two: estimate.",
  plateDissipation:
    "Rating 1500 W and sensing tolerance; 15 s is an estimate of the plate's time constant.",
  supplyUndervoltage: "No-load 3180 V, key-down about 3050 V; 2.50 kV is an estimate.",
  outputWithoutDrive:
    "Over leakage and noise of the couplers, plate current over any idle current; 10 and 20 ms are estimates.",
  exhaustAir:
    "1500 W warm the rated air by 75 K: 100 °C from a room of 25 °C; 110 °C and 1 s are estimates.",
  gridPlateRatio: "8 % at full carrier, 14 % at 100 W of drive; 20 % and 100 ms are estimates.",
  tankLight: "A tenth of the diode's scale, 50 W of arc, twice the room's light; estimates.",
  efficiency: "58 % at full carrier, some 15 % with an arc in the tank; 35 % is an estimate.",
  inputReflected: "A quarter of the drive is VSWR 3 at the input: common practice, no source.",
};
