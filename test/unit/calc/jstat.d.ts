declare module 'jstat' {
  type Continuous = {
    cdf: (x: number, ...parameters: number[]) => number
    inv: (probability: number, ...parameters: number[]) => number
  }
  type Discrete = { cdf: (x: number, ...parameters: number[]) => number }
  export const jStat: {
    normal: Continuous
    chisquare: Continuous
    studentt: Continuous
    gamma: Continuous
    poisson: Discrete
    negbin: Discrete
  }
}
