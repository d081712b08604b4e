import { describe, expect, test, vi } from 'vitest'

vi.stubEnv('KERFWATCH_DATABASE_URL', 'postgresql://someone@127.0.0.1/none')
const { describeError, enterRequest, requestId, withoutPersonalData } = await import('@/lib/log')

describe('log lines', () => {
  test('what names a person or repeats what they typed is taken out, however deep', () => {
    const line = {
      personId: '0192',
      personName: 'Dana',
      detail: { email: 'd@x.example', nested: [{ pinHash: 'h', count: 3 }] },
    }
    expect(withoutPersonalData(line)).toEqual({
      personId: '0192',
      personName: '[removed]',
      detail: { email: '[removed]', nested: [{ pinHash: '[removed]', count: 3 }] },
    })
  })

  test('an error is its kind, code and place; its message may quote a row', () => {
    const error = Object.assign(new Error('Key (email)=(d@x.example) already exists'), {
      code: 'P2002',
    })
    const line = describeError(error)
    expect(line).toMatchObject({ type: 'Error', code: 'P2002' })
    expect(JSON.stringify(line)).not.toContain('d@x.example')
  })

  test('a caller of enterRequest carries the request’s number, another request its own', async () => {
    const serve = async (id: string) => {
      const request = enterRequest()
      await Promise.resolve()
      request.id = id
      await new Promise((resolve) => setTimeout(resolve, 5))
      return requestId()
    }
    const answered = await Promise.all([
      Promise.resolve().then(() => serve('one')),
      Promise.resolve().then(() => serve('two')),
    ])
    expect(answered).toEqual(['one', 'two'])
  })
})
