import express, { type RequestHandler } from 'express'
import { MOST_COLOURS } from '../shared/draft/document-shape.ts'

const most = (fields: number) => express.urlencoded({ extended: false, limit: '2mb', parameterLimit: fields })
const shortForm = most(200)
/** Two fields for each of the colours that a draft may thread, and for the weft; then those of the plan itself. */
const planForm = most(2 * (MOST_COLOURS + 1) + 100)

/** The fields of a form, no more of them than any form has. */
export const readFormBody: RequestHandler = (req, res, next) =>
  /^\/pieces\/\d+\/plan(?:\/work)?\/?$/i.test(req.path) ? planForm(req, res, next) : shortForm(req, res, next)
