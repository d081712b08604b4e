import { answerStream } from '@/app/api/answer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { keepFleetFile } from '@/lib/data/fleet-import-file'
import { importFileSchema, LARGEST_FLEET_FILE } from '@/lib/schemas/fleet-import'
import { withSpool } from '@/lib/spool'

/** A spreadsheet with a starting fleet: kept and judged, row by row; nothing is taken in yet. */
export async function POST(request: Request): Promise<Response> {
  return answerStream(request, importFileSchema, async (input, pieces) => {
    const viewer = await requireRouteViewer()
    return withSpool(pieces, LARGEST_FLEET_FILE, async (file) => ({
      data: await keepFleetFile(viewer, { ...input, file }),
    }))
  })
}
