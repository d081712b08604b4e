import type { boxesOfCut, CutShapeCode, CutTaskCode } from '@/lib/schemas/cut-shapes'

/** What the form is asking for now. */
export type AskedCut = Readonly<{
  shape: CutShapeCode
  task: CutTaskCode
  asked: ReturnType<typeof boxesOfCut>
}>
