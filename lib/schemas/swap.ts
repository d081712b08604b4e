import { z } from 'zod'
import { readingBoxes, readingOf, serial } from './cylinder'
import { clientKey, type Loosely, optionalId, optionalText } from './fields'
import { ticked } from './measure'
import { MOST_PLACES } from './outfit'

export const swapSchema = z
  .object({
    key: clientKey,
    outfitId: z.uuid(),
    side: z.enum(['oxygen', 'fuel']),
    /** Which place of a manifold; 1 where there is one. */
    place: z.preprocess(
      (value) => (value === '' || value === undefined ? 1 : Number(value)),
      z.number().int().min(1).max(MOST_PLACES),
    ),
    permitId: optionalId,
    offCylinderId: optionalId,
    markedEmpty: ticked,
    onSerial: serial,
    shutAndBled: ticked,
    leakTested: ticked,
    /** It is on already, wrongly: to be recorded as what it was. */
    foundOn: ticked,
    /** How it came to hang there. */
    reason: optionalText(300),
    /** Where the one that comes off is put down. */
    offAreaId: optionalId,
    storageConfirmed: ticked,
    ...readingBoxes,
  })
  .transform((typed, context) => {
    const reading = readingOf(typed, context)
    if (typed.offCylinderId && !reading && !typed.markedEmpty && context.issues.length === 0) {
      context.addIssue({ code: 'custom', path: ['gauge'], message: 'READING_OR_EMPTY' })
    }
    if (typed.foundOn && !typed.reason)
      context.addIssue({ code: 'custom', path: ['reason'], message: 'SAY_IT' })
    const {
      key,
      outfitId,
      side,
      place,
      permitId,
      offCylinderId,
      markedEmpty,
      onSerial,
      shutAndBled,
      leakTested,
      foundOn,
      reason,
      offAreaId,
      storageConfirmed,
    } = typed
    return {
      key,
      outfitId,
      side,
      place,
      permitId,
      offCylinderId,
      markedEmpty,
      onSerial,
      shutAndBled,
      leakTested,
      foundOn,
      reason,
      offAreaId,
      storageConfirmed,
      offReading: reading,
    }
  })
export type SwapInput = Loosely<z.output<typeof swapSchema>, 'offAreaId' | 'storageConfirmed'>
