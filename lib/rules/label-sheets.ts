/** A sheet of labels as it is sold: how many across and down, and where they lie. Millimetres. */
export type LabelSheet = Readonly<{
  id: string
  paper: 'letter' | 'a4'
  across: number
  down: number
  labelWidthMm: number
  labelHeightMm: number
  leftMm: number
  topMm: number
  betweenAcrossMm: number
  betweenDownMm: number
}>

const MM_PER_IN = 25.4
const inches = (value: number) => value * MM_PER_IN

/** Common sheets, by their size alone. Common practice, no source; measured where a table differs. */
export const LABEL_SHEETS = [
  {
    id: 'letter-30',
    paper: 'letter',
    across: 3,
    down: 10,
    labelWidthMm: inches(2.625),
    labelHeightMm: inches(1),
    leftMm: inches(0.1875),
    topMm: inches(0.5),
    betweenAcrossMm: inches(0.125),
    betweenDownMm: 0,
  },
  {
    id: 'letter-10',
    paper: 'letter',
    across: 2,
    down: 5,
    labelWidthMm: inches(4),
    labelHeightMm: inches(2),
    leftMm: inches(0.15625),
    topMm: inches(0.5),
    betweenAcrossMm: inches(0.1875),
    betweenDownMm: 0,
  },
  {
    id: 'a4-21',
    paper: 'a4',
    across: 3,
    down: 7,
    labelWidthMm: 63.5,
    labelHeightMm: 38.1,
    leftMm: 7.25,
    topMm: 15.15,
    betweenAcrossMm: 2.5,
    betweenDownMm: 0,
  },
  {
    id: 'a4-8',
    paper: 'a4',
    across: 2,
    down: 4,
    labelWidthMm: 99.1,
    labelHeightMm: 67.7,
    leftMm: 4.65,
    topMm: 13.1,
    betweenAcrossMm: 2.5,
    betweenDownMm: 0,
  },
] as const satisfies readonly LabelSheet[]

export const PAPER_MM = {
  letter: { width: inches(8.5), height: inches(11) },
  a4: { width: 210, height: 297 },
} as const
