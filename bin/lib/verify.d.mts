export interface ChainResult {
  chain: string
  entries: number
  lastSeq: number
  lastHash: string
  firstBad: { seq: number; why: string } | null
}
export interface VerifyResult {
  ok: boolean
  chains: ChainResult[]
  expected: { chain: string; seq: number; holds: boolean; why: string | null } | null
  facts:
    | { table: string; id: string; chain: string | null; seq: number | null; why: string }[]
    | null
  cylinders: {
    cylinders: number
    findings: { id: string; serial: string; columns: string[] }[]
  } | null
}
export function verifyRecords(
  url: string,
  options?: { site?: string | null; expect?: string | null; chainsOnly?: boolean },
): Promise<VerifyResult>
export function describeResult(result: VerifyResult): string[]
