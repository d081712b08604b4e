// Vapour pressure of propane and density of its liquid, by temperature.
// Source: Lemmon, McLinden & Wagner, J. Chem. Eng. Data 54 (2009) 3141, evaluated row by row; coefficients read in
// the open CoolProp fluid file. A vendor chart read separately agrees within 4 psi; commercial propane runs
// higher, about 122 to 125 psig at 70 °F against 110.
export const PROPANE_SATURATION_ID = 'propane-saturation'

type Row = readonly [temperatureF: number, pressurePsia: number, liquidKgPerM3: number]

export const PROPANE_SATURATION: readonly Row[] = [
  [-44, 14.63, 581.01],
  [-40, 16.12, 578.43],
  [-30, 20.36, 571.93],
  [-20, 25.42, 565.31],
  [-10, 31.4, 558.56],
  [0, 38.39, 551.68],
  [10, 46.5, 544.65],
  [20, 55.83, 537.46],
  [30, 66.51, 530.09],
  [40, 78.64, 522.52],
  [50, 92.33, 514.73],
  [60, 107.71, 506.69],
  [70, 124.91, 498.37],
  [80, 144.04, 489.74],
  [90, 165.23, 480.75],
  [100, 188.62, 471.35],
  [110, 214.34, 461.47],
  [120, 242.54, 451.03],
  [130, 273.38, 439.92],
]

/** Highest filling of a container, as a share of its water weight, by specific gravity at 60 °F. */
// Source: WAC 296-307-41037 Table U-4, the same values as 29 CFR 1910.110, containers to 1,200 gal above ground; read.
export const FILLING_DENSITY_ID = 'lpg-filling-density'
export const FILLING_DENSITY: readonly (readonly [from: number, to: number, share: number])[] = [
  [0.496, 0.503, 0.41],
  [0.504, 0.51, 0.42],
  [0.511, 0.519, 0.43],
  [0.52, 0.527, 0.44],
  [0.528, 0.536, 0.45],
  [0.537, 0.544, 0.46],
  [0.545, 0.552, 0.47],
  [0.553, 0.56, 0.48],
  [0.561, 0.568, 0.49],
  [0.569, 0.576, 0.5],
  [0.577, 0.584, 0.51],
  [0.585, 0.592, 0.52],
  [0.593, 0.6, 0.53],
]
