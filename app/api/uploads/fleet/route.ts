import { answerFile } from '@/app/api/answer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { keepFleetFile } from '@/lib/data/fleet-import-file'
import { importFileSchema, LARGEST_FLEET_FILE } from '@/lib/schemas/fleet-import'

/** A spreadsheet with a starting fleet: kept and judged, row by row; nothing is taken in yet. */
export async function POST(request: Request): Promise<Response> {
  const limits = {
    schema: importFileSchema,
    largest: LARGEST_FLEET_FILE,
    tooLarge: 'FILE_TOO_LARGE',
  }
  return answerFile(request, limits, async (input, bytes) => ({
    data: await keepFleetFile(await requireRouteViewer(), { ...input, bytes }),
  }))
}
