import { z } from "zod";

/** Text that says something: at least one visible character. */
export function textField(description: string, example?: string) {
  return z
    .string()
    .regex(/\S/)
    .max(2000)
    .meta({ description, ...(example === undefined ? {} : { examples: [example] }) });
}

/** A short name by which other parts of a document or a report refer to something. One line, no outer blanks. */
export function nameField(description: string, example?: string) {
  return z
    .string()
    .regex(/^\S(?:[^\r\n]*\S)?$/)
    .max(120)
    .meta({ description, ...(example === undefined ? {} : { examples: [example] }) });
}
