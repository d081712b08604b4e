// Boiling liquids in an insulated cylinder: pressure of the container, density of liquid and of the vapour over it.
// Source: reference equations (oxygen: Schmidt & Wagner 1985; nitrogen: Span et al. 2000; argon: Tegeler et al.
// 1999), coefficients read in the open CoolProp fluid files, saturation solved here by equal Gibbs energy. The
// normal boiling points come out at 1 atm within 0.002 %: 90.188 K, 77.355 K, 87.302 K.
export const LIQUID_AT_SATURATION_ID = 'liquid-at-saturation'

export const LIQUID_GAS_CODES = ['oxygen', 'nitrogen', 'argon'] as const
export type LiquidGasCode = (typeof LIQUID_GAS_CODES)[number]

type Row = readonly [gaugePsig: number, liquidKgPerM3: number, vapourKgPerM3: number]

export const LIQUID_AT_SATURATION: Readonly<Record<LiquidGasCode, readonly Row[]>> = {
  oxygen: [
    [0, 1141.17, 4.467],
    [10, 1114.55, 7.201],
    [22, 1091.14, 10.387],
    [50, 1051.45, 17.651],
    [75, 1024.27, 24.079],
    [100, 1001.12, 30.532],
    [125, 980.5, 37.051],
    [150, 961.61, 43.668],
    [200, 927.24, 57.292],
    [230, 908.07, 65.776],
    [300, 865.71, 86.73],
    [350, 836.42, 102.949],
  ],
  nitrogen: [
    [0, 806.08, 4.612],
    [10, 784.34, 7.456],
    [22, 764.96, 10.793],
    [50, 731.55, 18.49],
    [75, 708.2, 25.415],
    [100, 687.95, 32.481],
    [125, 669.58, 39.747],
    [150, 652.41, 47.267],
    [200, 620.13, 63.282],
    [230, 601.37, 73.685],
    [300, 557.11, 101.289],
    [350, 522.95, 125.392],
  ],
  argon: [
    [0, 1395.4, 5.774],
    [10, 1362.64, 9.3],
    [22, 1333.77, 13.406],
    [50, 1284.7, 22.761],
    [75, 1250.98, 31.036],
    [100, 1222.19, 39.343],
    [125, 1196.49, 47.737],
    [150, 1172.9, 56.261],
    [200, 1129.88, 73.831],
    [230, 1105.81, 84.79],
    [300, 1052.46, 111.941],
    [350, 1015.37, 133.063],
  ],
}
