/** Which folder may import which. The folders form one direction of flow; `npm run imports` checks it. */
const never = (name, from, to, comment) => ({
  name,
  severity: 'error',
  comment,
  from: { path: from, pathNot: '\\.test\\.ts$' },
  to: { path: to },
});

module.exports = {
  forbidden: [
    {
      name: 'no-cycles',
      severity: 'error',
      comment: 'a cycle hides which way things flow',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    never('units-alone', '^services/units', '^(services/(?!units)|db|sdk|tests)', 'units know nothing else'),
    never(
      'engine-knows-no-vehicle',
      '^services/engine',
      '^(services/(?!units|engine)|db|sdk|tests)|node_modules/fastify',
      'signatures are handed to the engine',
    ),
    never('models-are-pure', '^services/models', '^(services/(?!units|models)|db|sdk|tests)', 'a model is a function of SI numbers'),
    never(
      'vehicle-below-workshop',
      '^services/vehicle',
      '^(services/(workshop|sheets|jobs|api|cli)|db|sdk|tests)',
      'the vehicle layer joins models and parts',
    ),
    never('workshop-below-api', '^services/workshop', '^(services/(api|cli)|db|sdk|tests)', 'the workshop turns findings into work'),
    never(
      'questions-below-api',
      '^services/questions',
      '^(services/(api|cli)|db|sdk|tests)',
      'a question is read into a build and answered from its check',
    ),
    never('workshop-knows-no-questions', '^services/(workshop|vehicle)', '^services/questions', 'short answers are made of whole ones'),
    never(
      'workshop-below-api',
      '^services/workshop',
      '^(services/(sheets|jobs|api|cli)|db|sdk|tests)',
      'the workshop turns findings into work',
    ),
    never(
      'sheets-are-tables',
      '^services/sheets',
      '^(services/(jobs|api|cli)|db|sdk|tests)',
      'a sheet is read and written without a store',
    ),
    never('jobs-below-api', '^services/jobs', '^(services/(api|cli)|sdk|tests)', 'a job is worked off with what it is handed'),
    never('db-knows-no-engine', '^db', '^(services/(?!vehicle/request)|sdk|tests)', 'storage keeps documents; it does not read them'),
    never('sdk-stands-alone', '^sdk', '^(services|db|tests)', 'the client ships without the server'),
    never('nothing-imports-tests', '^(services|db|sdk)', '^tests', 'tests depend on the code, never the other way'),
    {
      name: 'served-without-development',
      severity: 'error',
      comment: 'what the service needs must be there when development dependencies are left out, as in its image',
      from: { path: '^(services|db)', pathNot: '(\\.test|testing[^/]*|/generate|drizzle\\.config)\\.ts$' },
      to: { dependencyTypes: ['npm-dev'] },
    },
    { name: 'resolvable', severity: 'error', from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types'] },
  },
};
