import { answerFile } from '@/app/api/answer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { keepEvidence } from '@/lib/data/evidence'
import { evidenceSchema, LARGEST_EVIDENCE } from '@/lib/schemas/assignment'

/** The paper of a qualification: which one stands in the address, the body is the file. */
export async function POST(request: Request): Promise<Response> {
  // What a camera writes into a file besides the picture is dropped later; leave it some room.
  const largest = LARGEST_EVIDENCE + 200_000
  return answerFile(request, { schema: evidenceSchema, largest }, async (input, file) => ({
    data: await keepEvidence(await requireRouteViewer(), input, file),
  }))
}
