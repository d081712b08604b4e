// Wide-flange shapes: depth, flange width and thickness, web thickness, nominal weight.
// Source: AISC Steel Construction Manual dimensions, FROM MEMORY. Checked only for sense: the rectangles
// weigh 94 to 100 % of the nominal weight (fillets are the rest).
export const W_SHAPES_ID = 'w-shapes'

export type WShape = {
  depthIn: number
  flangeWidthIn: number
  flangeThicknessIn: number
  webThicknessIn: number
  poundsPerFoot: number
}

export const W_SHAPES: Readonly<Record<string, WShape>> = {
  W4x13: {
    depthIn: 4.16,
    flangeWidthIn: 4.06,
    flangeThicknessIn: 0.345,
    webThicknessIn: 0.28,
    poundsPerFoot: 13,
  },
  W6x15: {
    depthIn: 5.99,
    flangeWidthIn: 5.99,
    flangeThicknessIn: 0.26,
    webThicknessIn: 0.23,
    poundsPerFoot: 15,
  },
  W6x25: {
    depthIn: 6.38,
    flangeWidthIn: 6.08,
    flangeThicknessIn: 0.455,
    webThicknessIn: 0.32,
    poundsPerFoot: 25,
  },
  W8x18: {
    depthIn: 8.14,
    flangeWidthIn: 5.25,
    flangeThicknessIn: 0.33,
    webThicknessIn: 0.23,
    poundsPerFoot: 18,
  },
  W8x31: {
    depthIn: 8,
    flangeWidthIn: 8,
    flangeThicknessIn: 0.435,
    webThicknessIn: 0.285,
    poundsPerFoot: 31,
  },
  W8x40: {
    depthIn: 8.25,
    flangeWidthIn: 8.07,
    flangeThicknessIn: 0.56,
    webThicknessIn: 0.36,
    poundsPerFoot: 40,
  },
  W10x22: {
    depthIn: 10.2,
    flangeWidthIn: 5.75,
    flangeThicknessIn: 0.36,
    webThicknessIn: 0.24,
    poundsPerFoot: 22,
  },
  W10x33: {
    depthIn: 9.73,
    flangeWidthIn: 7.96,
    flangeThicknessIn: 0.435,
    webThicknessIn: 0.29,
    poundsPerFoot: 33,
  },
  W10x49: {
    depthIn: 10,
    flangeWidthIn: 10,
    flangeThicknessIn: 0.56,
    webThicknessIn: 0.34,
    poundsPerFoot: 49,
  },
  W12x26: {
    depthIn: 12.2,
    flangeWidthIn: 6.49,
    flangeThicknessIn: 0.38,
    webThicknessIn: 0.23,
    poundsPerFoot: 26,
  },
  W12x50: {
    depthIn: 12.2,
    flangeWidthIn: 8.08,
    flangeThicknessIn: 0.64,
    webThicknessIn: 0.37,
    poundsPerFoot: 50,
  },
  W12x65: {
    depthIn: 12.1,
    flangeWidthIn: 12,
    flangeThicknessIn: 0.605,
    webThicknessIn: 0.39,
    poundsPerFoot: 65,
  },
  W14x22: {
    depthIn: 13.7,
    flangeWidthIn: 5,
    flangeThicknessIn: 0.335,
    webThicknessIn: 0.23,
    poundsPerFoot: 22,
  },
  W14x30: {
    depthIn: 13.8,
    flangeWidthIn: 6.73,
    flangeThicknessIn: 0.385,
    webThicknessIn: 0.27,
    poundsPerFoot: 30,
  },
  W14x53: {
    depthIn: 13.9,
    flangeWidthIn: 8.06,
    flangeThicknessIn: 0.66,
    webThicknessIn: 0.37,
    poundsPerFoot: 53,
  },
  W14x90: {
    depthIn: 14,
    flangeWidthIn: 14.5,
    flangeThicknessIn: 0.71,
    webThicknessIn: 0.44,
    poundsPerFoot: 90,
  },
  W16x26: {
    depthIn: 15.7,
    flangeWidthIn: 5.5,
    flangeThicknessIn: 0.345,
    webThicknessIn: 0.25,
    poundsPerFoot: 26,
  },
  W16x40: {
    depthIn: 16,
    flangeWidthIn: 7,
    flangeThicknessIn: 0.505,
    webThicknessIn: 0.305,
    poundsPerFoot: 40,
  },
  W16x57: {
    depthIn: 16.4,
    flangeWidthIn: 7.12,
    flangeThicknessIn: 0.715,
    webThicknessIn: 0.43,
    poundsPerFoot: 57,
  },
  W18x35: {
    depthIn: 17.7,
    flangeWidthIn: 6,
    flangeThicknessIn: 0.425,
    webThicknessIn: 0.3,
    poundsPerFoot: 35,
  },
  W18x50: {
    depthIn: 18,
    flangeWidthIn: 7.5,
    flangeThicknessIn: 0.57,
    webThicknessIn: 0.355,
    poundsPerFoot: 50,
  },
  W18x76: {
    depthIn: 18.2,
    flangeWidthIn: 11,
    flangeThicknessIn: 0.68,
    webThicknessIn: 0.425,
    poundsPerFoot: 76,
  },
  W21x44: {
    depthIn: 20.7,
    flangeWidthIn: 6.5,
    flangeThicknessIn: 0.45,
    webThicknessIn: 0.35,
    poundsPerFoot: 44,
  },
  W21x62: {
    depthIn: 21,
    flangeWidthIn: 8.24,
    flangeThicknessIn: 0.615,
    webThicknessIn: 0.4,
    poundsPerFoot: 62,
  },
  W24x55: {
    depthIn: 23.6,
    flangeWidthIn: 7.01,
    flangeThicknessIn: 0.505,
    webThicknessIn: 0.395,
    poundsPerFoot: 55,
  },
  W24x76: {
    depthIn: 23.9,
    flangeWidthIn: 8.99,
    flangeThicknessIn: 0.68,
    webThicknessIn: 0.44,
    poundsPerFoot: 76,
  },
  W24x104: {
    depthIn: 24.1,
    flangeWidthIn: 12.8,
    flangeThicknessIn: 0.75,
    webThicknessIn: 0.5,
    poundsPerFoot: 104,
  },
  W27x84: {
    depthIn: 26.7,
    flangeWidthIn: 10,
    flangeThicknessIn: 0.64,
    webThicknessIn: 0.46,
    poundsPerFoot: 84,
  },
  W30x99: {
    depthIn: 29.7,
    flangeWidthIn: 10.5,
    flangeThicknessIn: 0.67,
    webThicknessIn: 0.52,
    poundsPerFoot: 99,
  },
  W33x118: {
    depthIn: 32.9,
    flangeWidthIn: 11.5,
    flangeThicknessIn: 0.74,
    webThicknessIn: 0.55,
    poundsPerFoot: 118,
  },
  W36x135: {
    depthIn: 35.6,
    flangeWidthIn: 12,
    flangeThicknessIn: 0.79,
    webThicknessIn: 0.6,
    poundsPerFoot: 135,
  },
  W36x150: {
    depthIn: 35.9,
    flangeWidthIn: 12,
    flangeThicknessIn: 0.94,
    webThicknessIn: 0.625,
    poundsPerFoot: 150,
  },
}
