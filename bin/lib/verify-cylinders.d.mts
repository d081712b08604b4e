import type pg from 'pg'

export function verifyCylinders(client: pg.ClientBase): Promise<{
  cylinders: number
  findings: { id: string; serial: string; columns: string[] }[]
}>
