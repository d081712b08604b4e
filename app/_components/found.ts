import 'server-only'
import { notFound } from 'next/navigation'
import { AppError } from '@/lib/errors'

/**
 * What a page reads, or the page that says there is no such thing. What the viewer may not see
 * answers the same: an id tells a stranger nothing.
 */
export async function found<T>(read: Promise<T>): Promise<T> {
  try {
    return await read
  } catch (error) {
    if (error instanceof AppError && (error.code === 'NOT_FOUND' || error.code === 'FORBIDDEN'))
      notFound()
    throw error
  }
}
