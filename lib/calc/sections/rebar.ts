// Deformed bars by size. Source: ASTM A615 and A706, nominal diameter and weight, FROM MEMORY. Checked for
// sense: the round of that diameter at 490 lb/ft³ weighs what is printed within 1 %.

/** Size, nominal diameter (in), nominal weight (lb/ft). */
export const REBAR_ROWS: readonly (readonly [
  name: string,
  diameterIn: number,
  poundsPerFoot: number,
])[] = [
  ['#3', 0.375, 0.376],
  ['#4', 0.5, 0.668],
  ['#5', 0.625, 1.043],
  ['#6', 0.75, 1.502],
  ['#7', 0.875, 2.044],
  ['#8', 1, 2.67],
  ['#9', 1.128, 3.4],
  ['#10', 1.27, 4.303],
  ['#11', 1.41, 5.313],
  ['#14', 1.693, 7.65],
  ['#18', 2.257, 13.6],
]
