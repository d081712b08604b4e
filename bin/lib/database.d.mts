import type { Client } from 'pg'

export function withClient<T>(url: string, work: (client: Client) => Promise<T>): Promise<T>
export function createDatabase(ownerUrl: string, name: string): Promise<string>
export function dropDatabase(ownerUrl: string, name: string): Promise<void>
export function templateDatabase(ownerUrl: string, template: string, name: string): Promise<string>
export function ensureRuntimeRole(ownerUrl: string): Promise<void>
