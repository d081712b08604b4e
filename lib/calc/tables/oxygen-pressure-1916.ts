// Oxyacetylene cutting of steel: oxygen pressures, gas per foot of cut, speed.
// Source: H. P. Manly, "Oxy-Acetylene Welding and Cutting" (1916), Project Gutenberg eBook 7969, read.
// Oxygen of the period was 97 % pure and the tips are not today's: shown as history, never as a setting.
export const OXYGEN_PRESSURE_1916_ID = 'ofc-acetylene-manly-1916'

export const OXYGEN_PRESSURE_1916 = [
  {
    thicknessIn: 0.25,
    cuttingOxygenPsig: 10,
    heatingOxygenPsig: 4,
    oxygenFt3PerFt: 0.4,
    acetyleneFt3PerFt: 0.086,
    speedInPerMin: 24,
  },
  {
    thicknessIn: 0.5,
    cuttingOxygenPsig: 20,
    heatingOxygenPsig: 4,
    oxygenFt3PerFt: 0.91,
    acetyleneFt3PerFt: 0.15,
    speedInPerMin: 15,
  },
  {
    thicknessIn: 0.75,
    cuttingOxygenPsig: 30,
    heatingOxygenPsig: 4,
    oxygenFt3PerFt: 1.16,
    acetyleneFt3PerFt: 0.15,
    speedInPerMin: 15,
  },
  {
    thicknessIn: 1,
    cuttingOxygenPsig: 30,
    heatingOxygenPsig: 4,
    oxygenFt3PerFt: 1.45,
    acetyleneFt3PerFt: 0.172,
    speedInPerMin: 12,
  },
  {
    thicknessIn: 1.5,
    cuttingOxygenPsig: 30,
    heatingOxygenPsig: 5,
    oxygenFt3PerFt: 2.4,
    acetyleneFt3PerFt: 0.38,
    speedInPerMin: 12,
  },
  {
    thicknessIn: 2,
    cuttingOxygenPsig: 40,
    heatingOxygenPsig: 5,
    oxygenFt3PerFt: 2.96,
    acetyleneFt3PerFt: 0.38,
    speedInPerMin: 12,
  },
  {
    thicknessIn: 4,
    cuttingOxygenPsig: 50,
    heatingOxygenPsig: 5,
    oxygenFt3PerFt: 9.7,
    acetyleneFt3PerFt: 0.8,
    speedInPerMin: 7,
  },
  {
    thicknessIn: 6,
    cuttingOxygenPsig: 70,
    heatingOxygenPsig: 6,
    oxygenFt3PerFt: 21.09,
    acetyleneFt3PerFt: 1.5,
    speedInPerMin: 4,
  },
  {
    thicknessIn: 9,
    cuttingOxygenPsig: 100,
    heatingOxygenPsig: 6,
    oxygenFt3PerFt: 43.2,
    acetyleneFt3PerFt: 2,
    speedInPerMin: 3,
  },
] as const
