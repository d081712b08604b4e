/** Judgement, no source: a flow from a chart is good to a tenth. */
export const DRAW_RELATIVE_U = 0.1

/** Common practice, no source: air for the air around the cylinder. */
export const AIR_U_K = 2
