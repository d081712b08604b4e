import { answerFile } from '@/app/api/answer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { keepPicture } from '@/lib/data/pictures/pictures'
import { LARGEST_PICTURE, pictureSchema } from '@/lib/schemas/picture'

/** A picture as it comes from the phone: what it is about stands in the address, the body is the file. */
export async function POST(request: Request): Promise<Response> {
  // What a camera writes into a file besides the picture is dropped later; leave it some room.
  const largest = LARGEST_PICTURE + 100_000
  return answerFile(request, { schema: pictureSchema, largest }, async (input, file) => ({
    data: await keepPicture(await requireRouteViewer(), input, file),
  }))
}
