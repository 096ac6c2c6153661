/** Made by `npm run generate` from the OpenAPI document; do not edit. */
export interface paths {
    "/v1/checks": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Check a vehicle with its parts, load and use
         * @description Answers whether everything works together, by how much it misses, what work cures it and in which order, and what to measure next. Nothing is stored; the same request gives the same bytes.
         */
        post: operations["check"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/questions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Ask whether it fits, in words, and get a short answer
         * @description Reads the shorthand people type into a build, checks it, and answers in a few hundred characters: yes, yes with work, no, or not to be told yet; what decides it, what was assumed, the work and what to measure. What was not understood is said. No link, mention or markup of the text is live in the answer. Where verdict, cautions and the assumptions that could flip it do not fit the length, the fault names the least that does.
         */
        post: operations["ask"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/what-ifs": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Vary one thing of a build, and tell where the verdict turns
         * @description Clear up to here, close to there, conflict beyond: of a lift, a tyre, an offset, or any other value that can be read. The vehicle is checked, before any work, at as few values as tell every border to the step; every verdict told is one of a check. Each stretch tells what decides it, by how much, what ends it, and which readings would settle or widen it; what the law ends is told apart from what the fit does. Nothing is stored; the same request gives the same bytes.
         */
        post: operations["whatIf"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/vehicles": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Vehicles of the catalogue */
        get: operations["listVehicles"];
        put?: never;
        /** Add a vehicle to the catalogue */
        post: operations["addVehicle"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/vehicles/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One vehicle */
        get: operations["getVehicle"];
        /**
         * Change a vehicle: its next version
         * @description Nothing is written when it already says the same. Versions before it stay to be read and to be checked with.
         */
        put: operations["changeVehicle"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Parts of the catalogue */
        get: operations["listParts"];
        put?: never;
        /** Add a part to the catalogue */
        post: operations["addPart"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One part */
        get: operations["getPart"];
        /**
         * Change a part: its next version
         * @description Nothing is written when it already says the same. Versions before it stay to be read and to be checked with.
         */
        put: operations["changePart"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/imports/vehicles": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Bring many vehicles into the catalogue, from CSV or JSON
         * @description A list of `VehicleEntry`, or a table whose first row names the columns: `id`, `name`, `maker`, `note`, `class`, and one for each of the values (`mass`, or `mass [kg]` or `mass (kg)` over bare numbers; `axle_rating.front` for one place). An id that is there already gets a new version where the row says something else. All is written in one transaction.
         */
        post: operations["importVehicles"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/imports/parts": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Bring many parts into the catalogue, from CSV or JSON
         * @description A list of `PartEntry`, or a table whose first row names the columns: `id`, `name`, `maker`, `note`, `kind`, and one for each of the attributes (`mass`, or `mass [kg]` or `mass (kg)` over bare numbers). An id that is there already gets a new version where the row says something else. All is written in one transaction.
         */
        post: operations["importParts"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/builds": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Builds, the newest first */
        get: operations["listBuilds"];
        put?: never;
        /**
         * Save a build
         * @description A build may name things that are not there yet: what cannot be put together is said by its check.
         */
        post: operations["createBuild"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/builds/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A build as it is */
        get: operations["getBuild"];
        /**
         * Change a build: its next revision
         * @description Measurements stay as they are.
         */
        put: operations["changeBuild"];
        post?: never;
        /**
         * Delete a build for good
         * @description Its revisions, measurements and kept answers go with it. What stays: that there was a build of this id, its last revision, the key it was deleted with and when, which is what asking for it then tells (`GONE`); replies to keyed writes of the last 24 hours, until they are forgotten; and the catalogue.
         */
        delete: operations["deleteBuild"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/builds/{id}/restore": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Bring a revision back, as the next one
         * @description The build and the measurements that held in it are as they were then. What came between stays to be read.
         */
        post: operations["restoreBuild"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/builds/{id}/revisions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What became of a build: who changed what, when; the newest first */
        get: operations["listRevisions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/builds/{id}/revisions/{revision}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A build as it was */
        get: operations["getRevision"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/builds/{id}/measurements": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Measurements that hold for a build, in the order they were recorded */
        get: operations["listMeasurements"];
        put?: never;
        /**
         * Record a measurement, as the next revision
         * @description Two who measure at once are both heard, so `if-match` may be left out.
         */
        post: operations["measure"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/builds/{id}/measurements/{measurement}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post?: never;
        /** Leave a measurement out of the next revision */
        delete: operations["dropMeasurement"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/builds/{id}/checks": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Answers kept for a build, the newest first */
        get: operations["listSavedChecks"];
        put?: never;
        /**
         * Check a saved build and keep the answer
         * @description The answer is kept with the revision and the versions it rests on; asked alike with nothing changed, the kept one is given.
         */
        post: operations["checkBuild"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/builds/{id}/checks/{check}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A kept answer */
        get: operations["getSavedCheck"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/comparisons": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Compare two builds or two revisions: what the change fixed and broke */
        post: operations["compare"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/kinds": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Kinds of part, with their attributes and how each is measured */
        get: operations["listKinds"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/kinds/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One kind */
        get: operations["getKind"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/quantities": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Quantities: what they mean, whose they are and how a person reads them */
        get: operations["listQuantities"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/quantities/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One quantity */
        get: operations["getQuantity"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/rules": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Rules: what must hold, why, and the work that cures it */
        get: operations["listRules"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/rules/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One rule */
        get: operations["getRule"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/works": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Works: hours, skills, effects and how each is verified */
        get: operations["listWorks"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/works/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One work */
        get: operations["getWork"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sources": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Documents that rules and models rest on */
        get: operations["listSources"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sources/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One source */
        get: operations["getSource"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/classes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Classes of vehicle, with the defaults that stand in for what is not known */
        get: operations["listClasses"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/classes/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One class */
        get: operations["getClass"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/jurisdictions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Law packs: what a jurisdiction limits, with the text, when it was read and how; name them under `use.jurisdictions` */
        get: operations["listJurisdictions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/jurisdictions/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One jurisdiction */
        get: operations["getJurisdiction"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sheets/check": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Check a table of builds, CSV or .xlsx, row by row
         * @description One row a build, or one row a part with a column that names its build. Headings are recognised in the words people use (`/v1/sheets/headings`); units stand in the heading or in the cell. The same sheet comes back with their columns untouched and ours behind them; a row that cannot be checked says why. Up to 30 rows are answered at once, where that takes no longer than 20 seconds; more, what takes longer, or with `prefer: respond-async`, become a job whose progress and result are at `location`.
         */
        post: operations["checkSheet"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sheets": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Jobs of sheets, the newest first */
        get: operations["listSheets"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sheets/headings": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The headings that are recognised, by the words people use
         * @description Beside these, quantities of the dictionary, kinds of part, and a kind with one of its attributes.
         */
        get: operations["listSheetHeadings"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sheets/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A job: its state, how far it is, and what its headings were taken for */
        get: operations["getSheet"];
        put?: never;
        post?: never;
        /** Remove a job with its file and its rows */
        delete: operations["removeSheet"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sheets/{id}/result": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The sheet with our columns behind theirs
         * @description Of a job that was cancelled, with the rows it had done; the others say so.
         */
        get: operations["getSheetResult"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sheets/{id}/cancel": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Stop a job; what is done stays */
        post: operations["cancelSheet"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sheets/{id}/resume": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Go on with a job where it stopped */
        post: operations["resumeSheet"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/cells/{what}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * One value as plain text, for a formula that fetches an address
         * @description The value alone: `verdict` (conflict, close, clear, or what is missing), `item` (the finding that the verdict hangs on), `margin` (its margin, negative fails), `margin-tolerance` (how far the further end of its band is from it), `margin-unit` (the unit of both), `hours` (hours of work, likely), `hours-low` (at least, of the work that is known), `hours-high` (at most), `mass-front` (what the parts bring to the front axle, kg or lb), `mass-rear` (what the parts bring to the rear axle, kg or lb), `amps` (what the electric parts draw, all at work), `conflicts` (how many conflicts there are), `measure` (what to measure next). The build is `build`, the id of a saved one, or what it is made of, in parameters named as the headings of a sheet: `vehicle=…&tyre=…&front_lift_mm=50`. Formulas send no headers, so a read-only `token` stands in the address, and whatever is wrong stands in the cell, with status 200: `NEEDS: …` where something is missing, `ERROR: …` where something cannot be read, `WAIT: …` while the service is busy. Never empty.
         */
        get: operations["getCell"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/cell-tokens": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Keys of cells, the newest first; without their secrets */
        get: operations["listCellTokens"];
        put?: never;
        /**
         * Make a read-only key for the addresses of cells
         * @description It is told this once. It opens `/v1/cells` and nothing else.
         */
        post: operations["createCellToken"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/cell-tokens/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post?: never;
        /** Take a key of cells back, for good */
        delete: operations["revokeCellToken"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tyres/{designation}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What a tyre measures and carries, by its designation
         * @description Reads a designation in any form it is typed in: dimensions with what the standards let them vary by, approved rims, ratings, load at pressure, and what each rests on. What the size does not say is listed, not guessed. One that cannot be read is answered with what was probably meant.
         */
        get: operations["getTyre"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tyres/{designation}/compare/{other}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What going from one tyre to another changes
         * @description Differences in diameter, width, clearance, turns, load and speed, with what the standards leave open; what the speedometer shows; what gears are worth. A rim width, load and pressure count for both, readings and tread for the second.
         */
        get: operations["compareTyres"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/plans": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Plan the job: order, time, money, risk, stages, hand-over
         * @description The request of a check, with the shop’s terms and the state of the job. Answers what remains to be done in one order and what goes wrong in another, when and with how many hours, what it costs as an estimate, what is confirmed and signed for, and what is handed over. Nothing is stored; the same request gives the same bytes.
         */
        post: operations["plan"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/plans/sheet": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * The same as a file: Markdown, CSV, or a workbook with live sums
         * @description Texts that a spreadsheet would take for a formula begin with an apostrophe.
         */
        post: operations["planSheet"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/livez": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The process runs */
        get: operations["live"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/readyz": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The service can answer */
        get: operations["ready"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
}
export type webhooks = Record<string, never>;
export interface components {
    schemas: {
        /** @description A quantity with its unit ("2.5 in ± 0.1"), a text, a truth, or a plain count. A bare number is refused where a unit is needed. */
        Value: string | boolean | number;
        /** @description A measured value with when, with what and by whom it was taken. */
        Reading: {
            value: components["schemas"]["Value"];
            /**
             * Format: date
             * @description The day it was taken.
             */
            date?: string;
            tool?: string;
            /** @description By how much the tool may be off, alike at every reading with it, on top of the tolerance of the value: "1 mm", or "0.2 %" of what is read. */
            tool_error?: string;
            by?: string;
            note?: string;
        };
        /**
         * @description A corner part at `front` is a pair; at `all` it is four.
         * @enum {string}
         */
        PlaceInput: "vehicle" | "front" | "rear" | "front-left" | "front-right" | "rear-left" | "rear-right" | "all";
        /**
         * @description Where something is that a tyre can touch. Without points it says only what it is fixed to; its gap is then gauged.
         * @example {
         *       "on": "body",
         *       "from": "hub",
         *       "radius": "10 mm",
         *       "lines": [
         *         [
         *           "-430, -120, 60 mm",
         *           "-430, 40, 60 mm"
         *         ]
         *       ]
         *     }
         */
        PlacedShape: {
            /**
             * @description What it is fixed to; as its kind is where left out.
             * @enum {string}
             */
            on?: "chassis" | "body" | "knuckle" | "upper_arm" | "lower_arm" | "coil_over" | "anti_roll_bar";
            /**
             * @description What points are measured from. `drawing`: the ground below the front axle’s centre, as designed. `hub`: the middle of the hub’s face, standing at ride height with the wheels straight ahead; y outward from the face, inward negative. For chassis, body and knuckle.
             * @enum {string}
             */
            from?: "drawing" | "hub";
            /** @description Half of its thickness about the points. */
            radius?: string;
            /** @description How far the whole may lie off, any way; 10 mm when left out. */
            plus_minus?: string;
            /** @description Runs of straight pieces; one point alone is a ball. */
            lines?: string[][];
            /** @description Flat pieces with three or four corners. */
            patches?: string[][];
        };
        PartFromCatalogue: {
            /** @constant */
            from: "catalogue";
            part: string;
            version?: number;
            /** @description The part's name in this build; findings use it. */
            id?: string;
            at?: components["schemas"]["PlaceInput"];
            /** @description Fitted parts it takes the place of, by id, or `fitted` for what is there. */
            replaces?: string | string[];
            /** @description Readings of its attributes; they win over the catalogue. */
            measured?: {
                [key: string]: components["schemas"]["Value"] | components["schemas"]["Reading"];
            };
        };
        PartInline: {
            /** @constant */
            from: "inline";
            kind: string;
            name?: string;
            attributes?: {
                [key: string]: components["schemas"]["Value"];
            };
            shape?: components["schemas"]["PlacedShape"];
            /** @description The part's name in this build; findings use it. */
            id?: string;
            at?: components["schemas"]["PlaceInput"];
            /** @description Fitted parts it takes the place of, by id, or `fitted` for what is there. */
            replaces?: string | string[];
            /** @description Readings of its attributes; they win over the catalogue. */
            measured?: {
                [key: string]: components["schemas"]["Value"] | components["schemas"]["Reading"];
            };
        };
        PartInput: components["schemas"]["PartFromCatalogue"] | components["schemas"]["PartInline"];
        VehicleReading: {
            /** @description A quantity of the dictionary. */
            quantity: string;
            /** @description A place or the id of a part; left out for the vehicle. */
            of?: string;
            value: components["schemas"]["Value"];
            /**
             * Format: date
             * @description The day it was taken.
             */
            date?: string;
            tool?: string;
            /** @description By how much the tool may be off, alike at every reading with it, on top of the tolerance of the value: "1 mm", or "0.2 %" of what is read. */
            tool_error?: string;
            by?: string;
            note?: string;
            /** @description Of a reading taken with the planned parts on: the parts as they were then. It counts for as long as those it hangs on are the same. Left out: the parts of this request; but a reading of what is known of the vehicle as it stands too (a `…_fitted` beside it) is then of that. */
            with?: components["schemas"]["PartInput"][];
        };
        VehicleFromCatalogue: {
            /** @constant */
            from: "catalogue";
            vehicle: string;
            version?: number;
            measured?: components["schemas"]["VehicleReading"][];
        };
        VehicleInline: {
            /** @constant */
            from: "inline";
            name?: string;
            /** @description Class whose defaults stand in for what is not given. */
            class: string;
            /** @description Quantities of the vehicle: one value, or one by place. */
            values?: {
                [key: string]: components["schemas"]["Value"] | {
                    [key: string]: components["schemas"]["Value"];
                };
            };
            /** @description What is on it now. */
            fitted?: components["schemas"]["PartInput"][];
            measured?: components["schemas"]["VehicleReading"][];
        };
        VehicleInput: components["schemas"]["VehicleFromCatalogue"] | components["schemas"]["VehicleInline"];
        LoadItem: {
            name: string;
            mass: string;
            /** @description Towards the rear; negative is ahead of the front axle. This or `behind_rear_axle` says where it is. */
            behind_front_axle?: string;
            /** @description Towards the rear; negative is ahead of the rear axle. */
            behind_rear_axle?: string;
            /** @description Of its centre of mass above the ground. What is on the roof is a part of the kind `roof_cargo`. */
            height?: string;
        };
        /** @description A vehicle with its parts, load and use. */
        Build: {
            vehicle: components["schemas"]["VehicleInput"];
            parts?: components["schemas"]["PartInput"][];
            load?: {
                occupants?: number;
                items?: components["schemas"]["LoadItem"][];
            };
            use?: {
                top_speed?: string;
                /** @description Law packs to hold it against, by id (`/v1/jurisdictions`). Without one, nothing legal is claimed. */
                jurisdictions?: string[];
            };
        };
        CheckRequest: {
            vehicle: components["schemas"]["VehicleInput"];
            parts?: components["schemas"]["PartInput"][];
            load?: {
                occupants?: number;
                items?: components["schemas"]["LoadItem"][];
            };
            use?: {
                top_speed?: string;
                /** @description Law packs to hold it against, by id (`/v1/jurisdictions`). Without one, nothing legal is claimed. */
                jurisdictions?: string[];
            };
            /** @enum {string} */
            units?: "metric" | "us";
            /** @description Makes the defaults of the class agree with the readings there are, within their tolerances; `fit` of the answer says how well. */
            fit_to_readings?: boolean;
            /**
             * @description Which of the value graph to answer with.
             * @enum {string}
             */
            values?: "used" | "all";
            /** @description Tells other ways to cure what is in conflict or too close to call (`alternatives` of a finding), each with the least amount that does and what it costs elsewhere. It takes several times as long. */
            alternatives?: boolean;
            /** @description Quantities of the vehicle, its axles or its corners to have in `values` as well, whether or not a rule reads them. */
            also?: string[];
        };
        /**
         * @description One thing of a build that is varied: `from` and `to`, or `among`.
         * @example {
         *       "quantity": "height_added",
         *       "of": "front-coil-overs",
         *       "from": "0 in",
         *       "to": "3 in",
         *       "step": "0.1 in"
         *     }
         */
        Vary: {
            /** @description A quantity of the dictionary, or an attribute of a part, as in a reading. */
            quantity: string;
            /** @description A place or the id of a part; left out for the vehicle. */
            of?: string;
            from?: components["schemas"]["Value"];
            to?: components["schemas"]["Value"];
            /** @description Borders are told to this; a 64th of the range when left out. */
            step?: string;
            /** @description Half-width the value is held to at each step; exact when left out. */
            plus_minus?: string;
            /** @description Values of its own instead of a range, such as tyre sizes. */
            among?: components["schemas"]["Value"][];
        };
        /**
         * @example {
         *       "vehicle": {
         *         "from": "catalogue",
         *         "vehicle": "merrowdale-ghyll"
         *       },
         *       "parts": [
         *         {
         *           "from": "inline",
         *           "kind": "body_lift",
         *           "id": "lift",
         *           "attributes": {
         *             "height": "25 mm"
         *           }
         *         }
         *       ],
         *       "vary": {
         *         "quantity": "height",
         *         "of": "lift",
         *         "from": "0 mm",
         *         "to": "75 mm",
         *         "step": "1 mm"
         *       }
         *     }
         */
        WhatIfRequest: {
            vehicle: components["schemas"]["VehicleInput"];
            parts?: components["schemas"]["PartInput"][];
            load?: {
                occupants?: number;
                items?: components["schemas"]["LoadItem"][];
            };
            use?: {
                top_speed?: string;
                /** @description Law packs to hold it against, by id (`/v1/jurisdictions`). Without one, nothing legal is claimed. */
                jurisdictions?: string[];
            };
            /** @enum {string} */
            units?: "metric" | "us";
            vary: components["schemas"]["Vary"];
        };
        /** @description A vehicle for the catalogue; the service counts its versions. */
        VehicleEntry: {
            id: string;
            name: string;
            /** @description Class whose defaults stand in for what is not given. */
            class: string;
            /** @description Quantities of the vehicle: one value, or one by place. */
            values?: {
                [key: string]: components["schemas"]["Value"] | {
                    [key: string]: components["schemas"]["Value"];
                };
            };
            /** @description What is on it now. */
            fitted?: components["schemas"]["PartInput"][];
            maker?: string;
            note?: string;
        };
        VehicleChange: {
            name: string;
            /** @description Class whose defaults stand in for what is not given. */
            class: string;
            /** @description Quantities of the vehicle: one value, or one by place. */
            values?: {
                [key: string]: components["schemas"]["Value"] | {
                    [key: string]: components["schemas"]["Value"];
                };
            };
            /** @description What is on it now. */
            fitted?: components["schemas"]["PartInput"][];
            maker?: string;
            note?: string;
        };
        /** @description A part for the catalogue; the service counts its versions. */
        PartEntry: {
            id: string;
            kind: string;
            name: string;
            maker?: string;
            note?: string;
            attributes: {
                [key: string]: components["schemas"]["Value"];
            };
        };
        PartChange: {
            kind: string;
            name: string;
            maker?: string;
            note?: string;
            attributes: {
                [key: string]: components["schemas"]["Value"];
            };
        };
        BuildWrite: {
            name: string;
            build: components["schemas"]["Build"];
            /** @description The person who writes. */
            by?: string;
            /** @description Why, in a line. */
            note?: string;
        };
        Restore: {
            /** @description The revision to bring back; it becomes the next one. */
            revision: number;
            /** @description The person who writes. */
            by?: string;
            /** @description Why, in a line. */
            note?: string;
        };
        MeasurementWrite: {
            /** @description A quantity of the dictionary. */
            quantity: string;
            /** @description A place or the id of a part; left out for the vehicle. */
            of?: string;
            value: components["schemas"]["Value"];
            /**
             * Format: date
             * @description The day it was taken.
             */
            date: string;
            /** @description What it was taken with. */
            tool: string;
            /** @description By how much the tool may be off, alike at every reading with it, on top of the tolerance of the value: "1 mm", or "0.2 %" of what is read. */
            tool_error?: string;
            /** @description Where the suspension stood: at ride height, full bump, full droop. */
            suspension?: string;
            /** @description Where the steering stood. */
            steering?: string;
            /** @description The person who writes. */
            by?: string;
            /** @description Why, in a line. */
            note?: string;
        };
        CheckAsking: {
            /** @enum {string} */
            units?: "metric" | "us";
            /** @description Makes the defaults of the class agree with the readings there are, within their tolerances; `fit` of the answer says how well. */
            fit_to_readings?: boolean;
            /**
             * @description Which of the value graph to answer with.
             * @enum {string}
             */
            values?: "used" | "all";
            /** @description Tells other ways to cure what is in conflict or too close to call (`alternatives` of a finding), each with the least amount that does and what it costs elsewhere. It takes several times as long. */
            alternatives?: boolean;
            /** @description Quantities of the vehicle, its axles or its corners to have in `values` as well, whether or not a rule reads them. */
            also?: string[];
            /** @description Left out for the newest. */
            revision?: number;
        };
        /** @description Two builds, or two revisions of one. */
        ComparisonRequest: {
            before: {
                build: string;
                revision?: number;
            };
            after: {
                build: string;
                revision?: number;
            };
            /** @enum {string} */
            units?: "metric" | "us";
        };
        CellTokenWrite: {
            /** @description What it is for, such as the workbook it stands in. */
            name: string;
        };
        Price: {
            /** @description Of one. */
            price?: string;
            /**
             * @description What the customer supplies is not billed; its price is what it is worth.
             * @enum {string}
             */
            supplied_by?: "shop" | "customer";
            on_hand?: boolean;
            /** @description Calendar days until it is there. */
            lead_days?: number;
        };
        /** @description The shop’s prices. Money is texts of decimals: numbers of JSON are not exact. */
        ShopPrices: {
            currency: string;
            /** @description Rate of an hour by skill; `default` for the others. */
            labour: {
                [key: string]: string;
            };
            /** @description Planned parts by their id in the build. */
            parts?: {
                [key: string]: components["schemas"]["Price"];
            };
            /** @description What works buy, by its name, or `step id/name`. */
            buys?: {
                [key: string]: components["schemas"]["Price"];
            };
            consumables?: {
                [key: string]: string;
            };
            /** @description By work or step; in the place of its hours. */
            sent_out?: {
                [key: string]: string;
            };
            /** @description Consumables and single-use fasteners without a price of their own, as a share of labour. */
            shop_supplies?: string;
            contingency?: string;
            tax?: {
                name: string;
                rate: string;
                /** @description All of it when left out. */
                on?: ("labour" | "parts" | "supplies" | "sent_out" | "contingency")[];
            }[];
            valid_days?: number;
            /** @description What may be added before the customer is asked. */
            approval_above?: string;
            exclusions?: string[];
        };
        ShopTerms: {
            people?: number;
            hours_per_day?: number;
            working_days?: ("mon" | "tue" | "wed" | "thu" | "fri" | "sat" | "sun")[];
            /**
             * Format: date
             * @description The day the job is agreed and parts are ordered.
             */
            start?: string;
            /** @description For the dates of later visits. */
            km_per_week?: number;
        };
        Inspected: {
            point: string;
            /** @enum {string} */
            result: "sound" | "worn" | "unsafe" | "not_looked_at";
            by: string;
            /** Format: date */
            date: string;
            note?: string;
            /** @description Where photos are kept. */
            photos?: string[];
        };
        JobState: {
            /** @description Planned parts that are on it already. */
            fitted?: string[];
            done?: {
                /** @description Its id in the plan. */
                step: string;
                /** @description Where it was done otherwise than planned. */
                amounts?: {
                    [key: string]: components["schemas"]["Value"];
                };
            }[];
            inspection?: components["schemas"]["Inspected"][];
            /** @description Findings the customer lives with. */
            accepted?: {
                finding: string;
                by: string;
                /** Format: date */
                date: string;
                note?: string;
                /** @description Where photos are kept. */
                photos?: string[];
            }[];
            /** @description Steps that were done, signed for, with what was read. */
            as_built?: {
                /** @description Its id in the plan. */
                step: string;
                /** @description Where it was done otherwise than planned. */
                amounts?: {
                    [key: string]: components["schemas"]["Value"];
                };
                by: string;
                /** Format: date */
                date: string;
                note?: string;
                /** @description Where photos are kept. */
                photos?: string[];
                passed: boolean;
                readings?: {
                    quantity: string;
                    value: components["schemas"]["Value"];
                }[];
            }[];
        };
        /** @description A check with the shop’s terms and the state of the job. */
        PlanRequest: {
            vehicle: components["schemas"]["VehicleInput"];
            parts?: components["schemas"]["PartInput"][];
            load?: {
                occupants?: number;
                items?: components["schemas"]["LoadItem"][];
            };
            use?: {
                top_speed?: string;
                /** @description Law packs to hold it against, by id (`/v1/jurisdictions`). Without one, nothing legal is claimed. */
                jurisdictions?: string[];
            };
            /** @enum {string} */
            units?: "metric" | "us";
            /** @description Makes the defaults of the class agree with the readings there are, within their tolerances; `fit` of the answer says how well. */
            fit_to_readings?: boolean;
            /**
             * @description Which of the value graph to answer with.
             * @enum {string}
             */
            values?: "used" | "all";
            /** @description Tells other ways to cure what is in conflict or too close to call (`alternatives` of a finding), each with the least amount that does and what it costs elsewhere. It takes several times as long. */
            alternatives?: boolean;
            /** @description Quantities of the vehicle, its axles or its corners to have in `values` as well, whether or not a rule reads them. */
            also?: string[];
            shop?: components["schemas"]["ShopTerms"];
            estimate?: components["schemas"]["ShopPrices"];
            state?: components["schemas"]["JobState"];
            /** @description What was found half-way: the rest is planned anew, and the difference told with its price. */
            turned_up?: {
                measured?: components["schemas"]["VehicleReading"][];
                inspection?: components["schemas"]["Inspected"][];
                parts?: components["schemas"]["PartInput"][];
                note?: string;
            };
            stages?: {
                groups: {
                    name: string;
                    parts: string[];
                    /** @description What may be spent on it, all in; held against the prices in `estimate`. */
                    budget?: string;
                }[];
                /**
                 * @description `best` weighs every order of up to four groups.
                 * @enum {string}
                 */
                order?: "as_given" | "best";
            };
        };
        /**
         * @example {
         *       "text": "33x12.50R17 on 17x8.5 -10 with a 2.5\" lift, Merrowdale Ghyll",
         *       "length": 500,
         *       "format": "text"
         *     }
         */
        Question: {
            /** @description As somebody types it: `33x12.50R17 on 17x8.5 -10, 2.5" lift, Merrowdale Ghyll`. */
            text: string;
            /** @description Which vehicle, where the text does not say: a name, an id or a class, or a vehicle as a check takes it. It wins over the text. */
            vehicle?: string | components["schemas"]["VehicleInput"];
            /** @description Most characters (UTF-16 units) of the answer; 500 when left out. No answer about a build has fewer than 55 as text or 61 as markdown: less is refused before anything is checked, and so is what does not hold the assumptions of the reading. */
            length?: number;
            /**
             * @description `text` when left out.
             * @enum {string}
             */
            format?: "text" | "markdown";
            /** @description Law packs to hold it against, by id (`/v1/jurisdictions`). Without one, nothing legal is claimed. */
            jurisdictions?: string[];
            /**
             * @description As the question was written when left out.
             * @enum {string}
             */
            units?: "metric" | "us";
        };
        /**
         * @description Worst first. `close`: the measurements there are cannot decide it. `unknown`: a measurement is missing.
         * @enum {string}
         */
        Verdict: "conflict" | "unknown" | "close" | "clear";
        Amount: {
            value: number;
            unit: string;
            /** @description Half-width in the same unit; left out for what is exact. */
            plus_minus?: number;
        };
        WorkAmount: {
            /** @description Enough at the worse end of the tolerances. */
            value: number;
            /** @description What the nominal values ask for. */
            nominal: number;
            unit: string;
        };
        /** @description Signed: negative fails. Rounded towards the worse side. `low` to `high` is the worst-case band, which verdicts go by. */
        Margin: {
            value: number;
            unit: string;
            /** @description How far the further of its two ends is; `low` and `high` may lie unevenly. Left out for what is exact. */
            plus_minus?: number;
            /** @description The worst case: every input at the end of its tolerance where it does most harm, all at once; where `drawing_at_worst` is there, with what the numbers of a drawing do by root sum of squares among it, which nineteen in twenty keep to. */
            low: number | null;
            /** @description The best case. */
            high: number | null;
            /**
             * @description proven: no values within the tolerances go beyond it. searched: the furthest that a search found.
             * @enum {string}
             */
            low_is: "proven" | "searched";
            /**
             * @description proven: no values within the tolerances go beyond it. searched: the furthest that a search found.
             * @enum {string}
             */
            high_is: "proven" | "searched";
            /** @description The band by root sum of squares: what each input does alone at the ends of its tolerance, squared, summed and rooted. What one statement gave, or one tool read, moves together and counts once. If each tolerance holds 95 % of readings, and they are independent, so does this band. */
            rss: {
                low: number;
                high: number;
                /** @description false: the margin bends, or its inputs meddle with each other, and this band is a rough estimate. It never decides a verdict. */
                near_linear: boolean;
            } | null;
            /** @description Where the margin rests on a drawing: `low` and `high` with every number of the drawing at its worst at once too, to first order. It decides no verdict. null: no drawing is behind it, and `low` and `high` are the worst of everything. */
            drawing_at_worst: {
                low: number;
                high: number;
            } | null;
        };
        Origin: {
            /** @description measured, catalogue, stated, computed, class-default, typical, rule, work, unknown; more may come. */
            kind: string;
            note?: string;
            source?: string;
            date?: string;
            tool?: string;
            by?: string;
        };
        AnswerPart: {
            id: string;
            kind: string;
            name: string;
            at: string;
        };
        Basis: {
            kind: string;
            source?: string;
            title: string;
            clause?: string;
            /** @enum {string} */
            read?: "seen" | "second-hand" | "memory";
            /** @description When a text of law was read; it may have changed since. */
            on?: string;
            note?: string;
        };
        AnswerNumber: {
            name: string;
            title: string;
            value: number | boolean | string | null;
            unit?: string;
            /** @description Half-width in the same unit; left out for what is exact. */
            plus_minus?: number;
            origin: string;
            id?: string;
        };
        WorkCall: {
            work: string;
            title: string;
            amounts: {
                [key: string]: components["schemas"]["WorkAmount"];
            };
            step: string;
        };
        AlternativeCost: {
            id: string;
            rule: string;
            title: string;
            hazard: string;
            subject: string;
            before: components["schemas"]["Verdict"];
            after: components["schemas"]["Verdict"];
            margin_before: components["schemas"]["Margin"] | null;
            margin_after: components["schemas"]["Margin"] | null;
        };
        Alternative: {
            work: string;
            title: string;
            amounts: {
                [key: string]: components["schemas"]["WorkAmount"];
            };
            /** @description It clears the finding by itself at the worse end of the tolerances; where not, the amount is the most there is. */
            clears: boolean;
            /** @description Of the finding, with it done. */
            margin: components["schemas"]["Margin"] | null;
            irreversible: boolean;
            /** @description Findings that are worse for it. */
            breaks: components["schemas"]["AlternativeCost"][];
            /** @description Margins that fall without a change of verdict, the largest loss first. */
            lowers: components["schemas"]["AlternativeCost"][];
            /** @description Other findings that are better for it. */
            clears_too: string[];
            /** @description Numbers that it changes: turning circle, travel, track, load of the tyres and others. */
            changes: {
                id: string;
                name: string;
                title: string;
                subject: string;
                unit: string;
                before: number;
                after: number;
            }[];
            notes: string[];
            cautions: string[];
        };
        Finding: {
            id: string;
            rule: string;
            title: string;
            /** @description safety, damage, legal, comfort; more may come. */
            hazard: string;
            verdict: components["schemas"]["Verdict"];
            /** @description The vehicle stands so already, and the planned parts change nothing of it. Unless a conflict, it does not count in the verdict. */
            as_before: boolean;
            margin: components["schemas"]["Margin"] | null;
            subject: string;
            parts: components["schemas"]["AnswerPart"][];
            says: string;
            numbers: components["schemas"]["AnswerNumber"][];
            doubt: {
                id: string;
                share: number;
            }[];
            /** @description It rests on defaults of the class: likely so, until those readings are taken. */
            on_defaults?: {
                /** @description What part of the doubt defaults cause. */
                share: number;
                /** @description Readings that decide, with the share of the doubt that each causes. */
                decide: {
                    id: string;
                    title: string;
                    subject: string;
                    share: number;
                }[];
            };
            /** @description Of one that is too close to call: likely met, likely not met (from three chances in four on), as likely met as not. */
            leans?: string;
            /** @description Of one that is too close to call: what would settle it. Where the chance is small, its worse end is taken as true. */
            settled_by?: {
                /** @description Readings that take most of the doubt, with the share that each causes; none where no tool takes any of it. */
                readings: {
                    id: string;
                    title: string;
                    subject: string;
                    share: number;
                }[];
                /** @description Half-width of the margin that is left once all that can be read of it is. */
                leaves: components["schemas"]["Amount"] | null;
                /** @description What most of that is of: read as exactly as its tool reads, or by nobody. */
                remains: {
                    id: string;
                    title: string;
                    subject: string;
                    share: number;
                    can_be_read: boolean;
                }[];
                /** @description The chance that all of it settles the finding. */
                chance: number;
            };
            /** @description Values it rests on of which what was said cannot all be true: it is settled when they are read again. */
            contested?: string[];
            missing: string[];
            /** @description Groups of what is missing of which any one would do. */
            any_of?: string[][];
            work: components["schemas"]["WorkCall"][];
            /** @description Where they were asked for: other ways to cure it, each with what it costs elsewhere; those that clear it first. */
            alternatives?: components["schemas"]["Alternative"][];
            basis: components["schemas"]["Basis"][];
            cautions: string[];
        };
        Hours: {
            low: number;
            likely: number;
            high: number;
            /** @constant */
            unit: "h";
        };
        Step: {
            id: string;
            work: string;
            title: string;
            parts: components["schemas"]["AnswerPart"][];
            amounts: {
                [key: string]: components["schemas"]["WorkAmount"];
            };
            skills: string[];
            /** @description Who must do it, where not anybody may. */
            who: string[];
            /** @description People it takes at once. */
            crew: number;
            hours: components["schemas"]["Hours"];
            tools: string[];
            /** @description Set-ups it needs itself. */
            setups: string[];
            irreversible: boolean;
            /** @description A fault in it can kill: it is signed for when it is verified. */
            safety_critical: boolean;
            /** @description Only to be done if measuring shows that it is needed. */
            contingent: boolean;
            because: string[];
            after: {
                step: string;
                why: string;
            }[];
            prerequisites: string[];
            /** @description What must pass before what comes after it. */
            settling: {
                hours: number;
                why: string;
            } | null;
            sent_out: {
                days: number;
                /** @enum {string} */
                what: "part" | "vehicle";
            } | null;
            /** @description Distances after the hand-over at which it is done; in the shop where there are none. */
            visits: components["schemas"]["Amount"][];
            fasteners: {
                what: string;
                single_use: boolean;
                at_ride_height: boolean;
                torque?: string;
            }[];
            /** @description What is bought for it. */
            buys: string[];
            consumables: string[];
            verify: {
                check: string;
                accept: string;
            } | null;
            cautions: string[];
        };
        /** @description A state of the vehicle that steps share, made once for as many as the order allows. */
        SetUp: {
            id: string;
            title: string;
            /** @description The first step that needs it. */
            from: string;
            /** @description The last step that needs it. */
            to: string;
            make: components["schemas"]["Hours"];
            unmake: components["schemas"]["Hours"];
            crew: number;
            contingent: boolean;
            cautions: string[];
        };
        JobWork: {
            steps: components["schemas"]["Step"][];
            /** @description All of it: the high end with everything that may be needed. */
            hours: components["schemas"]["Hours"];
            /** @description What is sure to be done, set-ups included. */
            sure: components["schemas"]["Hours"];
            /** @description What measuring may show to be needed, beyond that. */
            if_needed: components["schemas"]["Hours"];
            /** @description Findings that are not known yet and could ask for more work. */
            not_known: number;
            setups: components["schemas"]["SetUp"][];
            order: {
                set_up: components["schemas"]["Amount"];
                /** @description What no order goes below. */
                at_least: components["schemas"]["Amount"];
                exact: boolean;
                rework_at_risk: components["schemas"]["Amount"];
            };
            /** @description Ways round by which steps wait for themselves; none unless rules contradict each other. */
            rings: {
                step: string;
                why: string;
                because: string[];
            }[][];
        };
        ToMeasure: {
            ids: string[];
            quantity: string;
            title: string;
            subject: string;
            why: string;
            findings: string[];
            how: string;
            tool: string;
            where?: string;
            suspension?: string;
            steering?: string;
            accuracy?: components["schemas"]["Amount"];
            /** @description On its own, getting into position included. */
            minutes?: number;
            cautions: string[];
            /** @description From 1, the most telling for its time first. */
            order: number;
            /** @description The position it is read in, by its id in `measuring.groups`. */
            group: string;
            /** @description One of the few that decide most. */
            decides: boolean;
            /** @description as-it-stands, planned-part, planned-parts-on: what must be on the vehicle when it is read; more may come. */
            state: string;
            /** @description Conflicts that rest on defaults of the class, which this reading ends if the vehicle is otherwise than its class has it. */
            could_overturn: string[];
            /** @description What this reading, with those before it, is expected to settle, and how likely. */
            would_settle: {
                finding: string;
                title: string;
                chance: number;
            }[];
            /** @description Findings that are not known, and can be told with this reading. */
            would_tell: string[];
            would_narrow: string[];
            /** @description With its position taken already. */
            minutes_there: number;
            /** @description How the reading is sent, under `measured` of the vehicle, but for its value. */
            write_down: {
                quantity: string;
                of?: string;
                unit?: string;
                /** @description What its value may be written as, where that is no number, or not only: the code that stands on the part, or the words there are. */
                such_as?: string[];
            };
        };
        /** @description Readings of one position: they share the time it takes to get there. */
        MeasuringGroup: {
            id: string;
            title: string;
            setup_minutes: number;
            minutes: number;
            readings: number[];
            cautions: string[];
        };
        /** @description Readings that give together what none gives alone. */
        MeasuringSet: {
            id: string;
            title: string;
            gives: string;
            /** @description All that belong to it. */
            quantities: string[];
            /** @description Those of the list. */
            readings: number[];
            /** @description Those of the list that all of it stands in for. */
            instead_of: number[];
        };
        /** @description A reading that was given. */
        TakenReading: {
            ids: string[];
            quantity: string;
            title: string;
            subject: string;
            settled: string[];
            open: string[];
            /** @description Why nothing rests on it: another reading counts, say, or no finding asks for it. */
            remark?: string;
        };
        /** @description The list of what to measure as a whole. */
        Measuring: {
            /** @description Of the whole list. */
            minutes: number;
            /** @description The few that decide most, by their order. */
            decide: {
                readings: number[];
                minutes: number;
            };
            groups: components["schemas"]["MeasuringGroup"][];
            /** @description Readings of the list that belong together, by their order. */
            sets: components["schemas"]["MeasuringSet"][];
            /** @description Findings too close to call that the whole list is expected to settle. */
            settles: string[];
            /** @description Findings not known that can be told with the whole list. */
            tells: string[];
            leaves_open: string[];
            /** @description Every reading that was given: which findings are settled and would be open without it, and which rest on it and are open; where none does, `remark` says why. Empty where `most_readings` is given. */
            taken: components["schemas"]["TakenReading"][];
        };
        /** @description How the defaults of the class were made to agree with the readings. */
        Fit: {
            readings: {
                id: string;
                /** @description What the fitted vehicle gives less the reading, in half-widths of the reading. */
                residual: number;
                off?: components["schemas"]["Amount"];
                /** @description Whether the defaults were made to agree with it: a vehicle of the class can have it, and nothing contradicts it. */
                agrees: boolean;
                /** @description Of one that was left out: why, and whether it counts all the same. */
                remark?: string;
            }[];
            adjusted: {
                ids: string[];
                was: components["schemas"]["Amount"];
                now: components["schemas"]["Amount"];
                /** @description What part of its tolerance is still open. */
                left: number;
            }[];
        };
        AnswerValue: {
            name: string;
            title: string;
            subject: string;
            value: number | boolean | string | null;
            unit?: string;
            /** @description Half-width in the same unit; left out for what is exact. */
            plus_minus?: number;
            origin: components["schemas"]["Origin"];
            from: string[];
        };
        Answer: {
            verdict: components["schemas"]["Verdict"];
            summary: string;
            checked: {
                rules: number;
                applied: number;
                not_applicable: number;
                conflict: number;
                unknown: number;
                close: number;
                clear: number;
                as_before: number;
            };
            findings: components["schemas"]["Finding"][];
            work: components["schemas"]["JobWork"];
            after_work: {
                verdict: components["schemas"]["Verdict"];
                rounds: number;
                cleared: string[];
                broken: components["schemas"]["Finding"][];
                remaining: {
                    id: string;
                    verdict: components["schemas"]["Verdict"];
                    says: string;
                }[];
            };
            measure: components["schemas"]["ToMeasure"][];
            measuring: components["schemas"]["Measuring"];
            fit?: components["schemas"]["Fit"];
            assumptions: string[];
            values: {
                [key: string]: components["schemas"]["AnswerValue"];
            };
            versions: {
                engine: string;
                models: string;
                rules: string;
                catalogue: string;
            };
        };
        CatalogueVehicle: {
            id: string;
            version: number;
            name: string;
            /** @description Class whose defaults stand in for what is not given. */
            class: string;
            /** @description Quantities of the vehicle: one value, or one by place. */
            values?: {
                [key: string]: components["schemas"]["Value"] | {
                    [key: string]: components["schemas"]["Value"];
                };
            };
            /** @description What is on it now. */
            fitted?: components["schemas"]["PartInput"][];
            maker?: string;
            note?: string;
        };
        CataloguePart: {
            id: string;
            version: number;
            kind: string;
            name: string;
            maker?: string;
            note?: string;
            attributes: {
                [key: string]: components["schemas"]["Value"];
            };
        };
        Measurement: {
            id: string;
            /** @description A quantity of the dictionary. */
            quantity: string;
            /** @description A place or the id of a part; left out for the vehicle. */
            of?: string;
            value: components["schemas"]["Value"];
            date: string;
            /** @description What it was taken with. */
            tool: string;
            /** @description By how much the tool may be off, alike at every reading with it, on top of the tolerance of the value: "1 mm", or "0.2 %" of what is read. */
            tool_error?: string;
            /** @description Where the suspension stood: at ride height, full bump, full droop. */
            suspension?: string;
            /** @description Where the steering stood. */
            steering?: string;
            by?: string;
            note?: string;
            recorded: {
                /** Format: date-time */
                at: string;
                /** @description Name of the key it came with. */
                key: string;
            };
        };
        /** @description A build at one of its revisions. */
        SavedBuild: {
            id: string;
            revision: number;
            name: string;
            build: components["schemas"]["Build"];
            /** @description Those that hold; of two of the same thing the later counts. */
            measurements: components["schemas"]["Measurement"][];
            /**
             * @description What made the revision; more may come.
             * @enum {string}
             */
            what: "created" | "changed" | "restored" | "measured" | "unmeasured";
            restored_from?: number;
            /** Format: date-time */
            at: string;
            /** @description Name of the key it came with. */
            key: string;
            by?: string;
            note?: string;
        };
        BuildSummary: {
            id: string;
            revision: number;
            name: string;
            vehicle?: string;
            /** Format: date-time */
            created_at: string;
        };
        Change: {
            /** @description RFC 6901, from the build. */
            pointer: string;
            /** @description Left out for what is new. */
            before?: unknown;
            /** @description Left out for what is gone. */
            after?: unknown;
        };
        RecordedMeasurement: {
            id: string;
            /** @description A quantity of the dictionary. */
            quantity: string;
            /** @description A place or the id of a part; left out for the vehicle. */
            of?: string;
            value: components["schemas"]["Value"];
            date: string;
            /** @description What it was taken with. */
            tool: string;
            /** @description By how much the tool may be off, alike at every reading with it, on top of the tolerance of the value: "1 mm", or "0.2 %" of what is read. */
            tool_error?: string;
            /** @description Where the suspension stood: at ride height, full bump, full droop. */
            suspension?: string;
            /** @description Where the steering stood. */
            steering?: string;
            by?: string;
            note?: string;
            recorded: {
                /** Format: date-time */
                at: string;
                /** @description Name of the key it came with. */
                key: string;
            };
            /** @description What held of the same thing before. */
            was?: components["schemas"]["Value"];
        };
        Revision: {
            revision: number;
            /**
             * @description What made the revision; more may come.
             * @enum {string}
             */
            what: "created" | "changed" | "restored" | "measured" | "unmeasured";
            restored_from?: number;
            /** Format: date-time */
            at: string;
            /** @description Name of the key it came with. */
            key: string;
            by?: string;
            note?: string;
            /** @description Of the build itself. */
            changes: components["schemas"]["Change"][];
            measurements: {
                added: components["schemas"]["RecordedMeasurement"][];
                removed: components["schemas"]["Measurement"][];
            };
        };
        SavedCheckSummary: {
            id: string;
            build: string;
            revision: number;
            verdict: components["schemas"]["Verdict"];
            versions: {
                engine: string;
                models: string;
                rules: string;
                catalogue: string;
            };
            /** @description What of the catalogue it rests on. */
            entries: {
                /** @enum {string} */
                noun: "vehicle" | "part";
                id: string;
                version: number;
            }[];
            /** Format: date-time */
            at: string;
            key: string;
        };
        /** @description An answer kept with what it rests on. */
        SavedCheck: {
            id: string;
            build: string;
            revision: number;
            verdict: components["schemas"]["Verdict"];
            versions: {
                engine: string;
                models: string;
                rules: string;
                catalogue: string;
            };
            /** @description What of the catalogue it rests on. */
            entries: {
                /** @enum {string} */
                noun: "vehicle" | "part";
                id: string;
                version: number;
            }[];
            /** Format: date-time */
            at: string;
            key: string;
            answer: components["schemas"]["Answer"];
        };
        TurnedFinding: {
            rule: string;
            title: string;
            hazard: string;
            /** @description null where the rule did not apply. */
            before: components["schemas"]["Verdict"] | null;
            after: components["schemas"]["Verdict"] | null;
            margin_before: components["schemas"]["Margin"] | null;
            margin_after: components["schemas"]["Margin"] | null;
            says: string;
            ids: {
                before: string | null;
                after: string | null;
            };
        };
        Comparison: {
            before: {
                build: string;
                revision: number;
                verdict: components["schemas"]["Verdict"];
                /** @description All of it: the high end with everything that may be needed. */
                hours: components["schemas"]["Hours"];
            };
            after: {
                build: string;
                revision: number;
                verdict: components["schemas"]["Verdict"];
                /** @description All of it: the high end with everything that may be needed. */
                hours: components["schemas"]["Hours"];
            };
            /** @description Was not clear, and now is, or no longer applies. */
            fixed: components["schemas"]["TurnedFinding"][];
            /** @description Was clear or did not apply, and now is not clear. */
            broken: components["schemas"]["TurnedFinding"][];
            /** @description Not clear before or after, with a better verdict or margin. */
            better: components["schemas"]["TurnedFinding"][];
            worse: components["schemas"]["TurnedFinding"][];
            /** @description Was known, and now a measurement is missing. */
            no_longer_known: components["schemas"]["TurnedFinding"][];
            unchanged: number;
            /** @description Of the build itself. */
            changes: components["schemas"]["Change"][];
            measurements: {
                added: components["schemas"]["Measurement"][];
                removed: components["schemas"]["Measurement"][];
            };
        };
        /** @description An error (RFC 9457), all its faults at once. */
        Problem: {
            type: string;
            title: string;
            status: number;
            /** @enum {string} */
            code: "JSON_MALFORMED" | "JSON_DUPLICATE_KEY" | "REQUEST_INVALID" | "BUILD_INVALID" | "MEASUREMENT_INVALID" | "ENTRY_INVALID" | "IMPORT_INVALID" | "SHEET_REFUSED" | "SHEET_NOT_DONE" | "TYRE_UNREADABLE" | "LENGTH_TOO_SMALL" | "ALREADY_THERE" | "PRECONDITION_MISSING" | "PRECONDITION_FAILED" | "IDEMPOTENCY_KEY_REUSED" | "KEY_MISSING" | "KEY_UNKNOWN" | "NOT_FOUND" | "GONE" | "METHOD_WRONG" | "BODY_TOO_LARGE" | "CONTENT_TYPE_WRONG" | "TOO_MANY_REQUESTS" | "INTERNAL" | "UNAVAILABLE";
            detail: string;
            faults: {
                /** @description RFC 6901 */
                pointer: string;
                code: string;
                message: string;
                help: string;
                /** @description Of an import, counted from 1 after the heading. */
                row?: number;
                /** @description Of a table: the row as a spreadsheet shows it, its heading being 1. */
                sheet_row?: number;
                column?: string;
            }[];
            request_id?: string;
        };
        ImportReport: {
            rows: number;
            /** @description Ids that are new. */
            added: number;
            /** @description Ids that have a new version. */
            changed: number;
            /** @description Ids that already said the same. */
            unchanged: number;
            /** @description Rows that were left out. */
            refused: number;
            faults: {
                /** @description RFC 6901 */
                pointer: string;
                code: string;
                message: string;
                help: string;
                /** @description Of an import, counted from 1 after the heading. */
                row?: number;
                /** @description Of a table: the row as a spreadsheet shows it, its heading being 1. */
                sheet_row?: number;
                column?: string;
            }[];
            /** @description Faults beyond those listed. */
            faults_left_out: number;
        };
        SheetColumn: {
            heading: string;
            /** @description What it was taken for; null when it is not read. */
            read_as: string | null;
            /** @description Of one that is not read: a heading it is spelt much like. Rows with a value there are not checked. */
            did_you_mean?: string;
            /** @description Of bare numbers below it. */
            unit?: string;
        };
        /** @description A table of builds that is checked row by row. */
        SheetJob: {
            id: string;
            name: string;
            /** @enum {string} */
            form: "csv" | "xlsx";
            /** @description queued, running, done, cancelled, failed; more may come. */
            state: string;
            rows: {
                total: number;
                done: number;
            };
            /** @description build or part. */
            rows_are: string;
            /** @description So far, by verdict; `not_checked` have a fault in a row. */
            builds: {
                conflict: number;
                unknown: number;
                close: number;
                clear: number;
                not_checked: number;
            };
            /** @enum {string} */
            units: "metric" | "us";
            columns: components["schemas"]["SheetColumn"][];
            /** @description Why it failed. */
            problem: string | null;
            /** @description ISO 8601, UTC. */
            created_at: string;
            finished_at: string | null;
            key: string;
        };
        SheetHeading: {
            words: string[];
            read_as: string;
            /** @description Of bare numbers, where the heading implies one. */
            unit?: string;
            /** @description Only where rows are parts, or builds. */
            rows?: string;
        };
        /** @description A key that stands in the address of a cell. It reads cells and nothing else. */
        CellToken: {
            id: string;
            name: string;
            /** @description ISO 8601, UTC. */
            created_at: string;
            revoked_at: string | null;
            key: string;
        };
        NewCellToken: {
            id: string;
            name: string;
            /** @description ISO 8601, UTC. */
            created_at: string;
            revoked_at: string | null;
            key: string;
            /** @description Told this once; only its hash is kept. */
            token: string;
        };
        Kind: {
            id: string;
            title: string;
            is?: string;
            fits: string;
            abstract: boolean;
            one_per_place: boolean;
            frame: string;
            bridges_to?: string;
            attributes: {
                name: string;
                title: string;
                /** @description number, truth or text */
                type: string;
                unit?: string;
                one_of?: string[];
                meaning: string;
                typical?: string;
                measure?: {
                    how: string;
                    tool: string;
                    where?: string;
                    suspension?: string;
                    steering?: string;
                    accuracy?: string;
                    minutes?: number;
                    cautions: string[];
                };
                /** @description The kind that declares it. */
                from: string;
            }[];
        };
        Quantity: {
            name: string;
            title: string;
            /** @description number, truth or text */
            type: string;
            unit?: string;
            one_of?: string[];
            meaning: string;
            typical?: string;
            measure?: {
                how: string;
                tool: string;
                where?: string;
                suspension?: string;
                steering?: string;
                accuracy?: string;
                minutes?: number;
                cautions: string[];
            };
            per: string[];
            comes: string;
        };
        Rule: {
            id: string;
            area: string;
            title: string;
            hazard: string;
            ranges_over: string[];
            requires: string;
            says: string;
            works: string[];
            basis: {
                kind: string;
                source?: string;
                title: string;
                clause?: string;
                read?: string;
                on?: string;
                note?: string;
            }[];
            cautions: string[];
            note?: string;
            examples: number;
        };
        Work: {
            id: string;
            title: string;
            takes: {
                name: string;
                type: string;
                unit?: string;
                meaning?: string;
            }[];
            skills: string[];
            hours: {
                low: number;
                likely: number;
                high: number;
                /** @constant */
                unit: "h";
            };
            tools: string[];
            irreversible: boolean;
            prerequisites: string[];
            after: string[];
            then: string[];
            effects: string[];
            verify: {
                check: string;
                accept: string;
                reads: string[];
            } | null;
            planning: {
                changes: string[];
                setups: {
                    setup: string;
                    of?: string;
                }[];
                /** @description Set-ups that must not stand while it is done. */
                without: string[];
                crew: number;
                settling: {
                    time: {
                        value: number;
                        /** @constant */
                        unit: "h";
                    };
                    why: string;
                } | null;
                visits: {
                    value: number;
                    /** @constant */
                    unit: "km";
                }[];
                sent_out: {
                    days: number;
                    what: string;
                } | null;
                fasteners: {
                    what: string;
                    single_use: boolean;
                    at_ride_height: boolean;
                    torque?: string;
                }[];
                buys: string[];
                consumables: string[];
                safety_critical: boolean;
                stands_for: string[];
                /** @description Works that come first, and what goes wrong otherwise. */
                not_before: {
                    work: string;
                    otherwise: string | null;
                }[];
            };
            cautions: string[];
            basis: {
                kind: string;
                source?: string;
                title: string;
                clause?: string;
                read?: string;
                on?: string;
                note?: string;
            }[];
        };
        Source: {
            id: string;
            title: string;
            kind: string;
            read: string;
            clause?: string;
            edition?: string;
            on?: string;
        };
        VehicleClass: {
            id: string;
            title: string;
            note?: string;
            values: {
                [key: string]: {
                    [key: string]: string;
                };
            };
            positions: {
                kind: string;
                at: string;
            }[];
            fitted: {
                id: string;
                kind: string;
                name?: string;
                at?: string;
                attributes: {
                    [key: string]: string;
                };
            }[];
        };
        /** @description A law pack: examples of what a jurisdiction limits, never the law itself. */
        Jurisdiction: {
            id: string;
            title: string;
            note?: string;
            limits: {
                kind: string;
                title: string;
                attributes: {
                    [key: string]: string;
                };
                basis: {
                    kind: string;
                    source?: string;
                    title: string;
                    clause?: string;
                    read?: string;
                    on?: string;
                    note?: string;
                }[];
                /** @description Rules that hold a vehicle against it. */
                rules: string[];
            }[];
            check_the_local_text: string;
        };
        /** @description Hours. One job in ten stays below `low`, one goes beyond `high`. */
        TimeSpread: {
            expected: number;
            deviation: number;
            independent: {
                low: number;
                high: number;
            };
            together: {
                low: number;
                high: number;
            };
            /** @constant */
            unit: "h";
        };
        Moment: {
            day: number;
            hour: number;
            date: string | null;
        };
        EstimateLine: {
            kind: string;
            text: string;
            quantity: string;
            unit: string;
            price: string | null;
            amount: string | null;
            steps: string[];
            /** @description Findings, parts and steps that ask for it. */
            because: string[];
            note?: string;
        };
        /** @description An estimate, not a quotation. Amounts are exact decimals. */
        Estimate: {
            wording: string;
            currency: string;
            digits: number;
            lines: components["schemas"]["EstimateLine"][];
            totals: {
                labour: string;
                parts: string;
                supplies: string;
                sent_out: string;
                contingency: string;
                net: string;
                tax: {
                    name: string;
                    rate: string;
                    groups: string[];
                    on: string;
                    amount: string;
                }[];
                total: string;
            };
            /** @description Nothing sure is without a price, and nothing is unknown that may ask for more. */
            complete: boolean;
            unpriced: string[];
            range: {
                low: string;
                high: string;
                method: string;
            };
            if_needed: {
                step: string;
                lines: components["schemas"]["EstimateLine"][];
                net: string;
                /** @description What has no price and is not in `net`. */
                unpriced: string[];
            }[];
            contingency_rate: string;
            valid_days: number;
            approval_above: string | null;
            exclusions: string[];
        };
        Calendar: {
            people: number;
            hours_per_day: number;
            begins: {
                day: number;
                hour: number;
                date: string | null;
                why: string;
            };
            entries: {
                what: string;
                from: components["schemas"]["Moment"];
                to: components["schemas"]["Moment"];
                ready: components["schemas"]["Moment"] | null;
                contingent: boolean;
            }[];
            ready: components["schemas"]["Moment"];
            visits: {
                after: {
                    value: number;
                    unit: string;
                };
                date: string | null;
                steps: string[];
            }[];
            /** @description What sets how long it takes with as many people as it likes; drying included. */
            critical: {
                steps: string[];
                hours: number;
            };
            needs_help: string[];
        };
        Risks: {
            confirm_first: {
                step: string;
                title: string;
                contingent: boolean;
                confirm: string[];
            }[];
            safety: {
                step: string;
                title: string;
                check: string;
                accept: string;
                who: string[];
                predicted: components["schemas"]["AnswerValue"][];
            }[];
            restricted: {
                skill: string;
                who: string;
                steps: string[];
            }[];
            single_use: {
                step: string;
                what: string;
                torque: string | null;
            }[];
            at_ride_height: {
                step: string;
                what: string;
            }[];
        };
        InspectionFinding: {
            id: string;
            point: string;
            title: string;
            hazard: string;
            verdict: components["schemas"]["Verdict"];
            says: string;
            how: string;
            tool: string;
            accept: string;
            minutes: number;
            /** @description Steps that wait for it. */
            before: string[];
            work: string[];
            by: string | null;
            date: string | null;
            note: string | null;
            photos: string[];
        };
        KnownContact: {
            finding: string;
            title: string;
            says: string;
            by: string;
            date: string;
            note: string | null;
        };
        AsBuilt: {
            step: string;
            by: string;
            date: string;
            passed: boolean;
            note: string | null;
            photos: string[];
            readings: {
                quantity: string;
                title: string;
                read: components["schemas"]["Amount"];
                predicted: components["schemas"]["Amount"] | null;
                agrees: boolean | null;
            }[];
            closed: boolean;
            /** @description Why it is not closed. */
            open: string[];
        };
        Variation: {
            note: string | null;
            added: string[];
            dropped: string[];
            changed: string[];
            hours: {
                before: number;
                after: number;
                /** @constant */
                unit: "h";
            };
            price: {
                before: string;
                after: string;
                difference: string;
                currency: string;
            } | null;
            approval: string;
        };
        Stages: {
            order: string;
            stages: {
                name: string;
                parts: string[];
                steps: string[];
                hours: number;
                /** @description null without prices. `complete`: everything of it has one. */
                money: {
                    currency: string;
                    total: string;
                    complete: boolean;
                    budget: string | null;
                    over: string | null;
                } | null;
                /** @description Done before, and done again because of this stage. */
                again: string[];
                /** @description Done at once to what the last stage asks for. */
                sized_for_the_end: string[];
                verdict: components["schemas"]["Verdict"];
                /** @enum {string} */
                safe_to_drive: "yes" | "no" | "not_known";
                open: {
                    id: string;
                    verdict: components["schemas"]["Verdict"];
                    hazard: string;
                    title: string;
                }[];
            }[];
            hours: number;
            hours_at_once: number;
            dearer_by: number;
            weighed: number;
            safe_all_along: boolean;
            /** @description null where no stage has a budget, or one that has is not priced whole. */
            within_budgets: boolean | null;
        };
        AlignmentTarget: {
            angle: string;
            axle: string;
            title: string;
            /** @description Each wheel’s; of toe both together. null: it is read from the maker’s sheet. */
            target: components["schemas"]["Amount"] | null;
            /** @enum {string} */
            from: "stated" | "computed" | "maker";
            /** @description What the drawing gives with the work done, cams as far as they go. */
            expected: components["schemas"]["Amount"] | null;
            sides_within: components["schemas"]["Amount"] | null;
            says: string;
        };
        Circuit: {
            part: string;
            name: string;
            /**
             * @description `maker`: the maker’s sheet says; `asked`: something is not stated.
             * @enum {string}
             */
            state: "fits" | "planned" | "conflict" | "asked" | "maker";
            current: components["schemas"]["Amount"] | null;
            cable: {
                length: components["schemas"]["Amount"] | null;
                area: components["schemas"]["Amount"] | null;
            };
            /** @description The thinnest that does, by the table. */
            needs: {
                area: components["schemas"]["Amount"];
                gauge: string;
                /** @enum {string} */
                for: "heat" | "heat and drop";
            } | null;
            fuse: {
                fitted: components["schemas"]["Amount"] | null;
                choose: components["schemas"]["Amount"] | null;
                at_most: components["schemas"]["Amount"] | null;
            };
            /** @description Share of the voltage lost, there and back. */
            drop: components["schemas"]["Amount"] | null;
            says: string;
            /** @description Attributes of the part that would tell more. */
            asked: string[];
        };
        WiringMap: {
            rule: string;
            source: string;
            circuits: components["schemas"]["Circuit"][];
        };
        HandOver: {
            vehicle: string;
            sections: {
                id: string;
                title: string;
                values: components["schemas"]["AnswerValue"][];
                by_hand: string[];
            }[];
            alignment: components["schemas"]["AlignmentTarget"][];
            wiring: components["schemas"]["WiringMap"];
            known_contacts: components["schemas"]["KnownContact"][];
            still_open: {
                id: string;
                verdict: string;
                says: string;
            }[];
            visits: {
                after: {
                    value: number;
                    unit: string;
                };
                date: string | null;
                steps: string[];
            }[];
            parts_taken_off: string[];
            cautions: string[];
        };
        Plan: {
            /** @description The answer to a check of this state; `work` is what remains, in order. */
            check: components["schemas"]["Answer"];
            done: {
                step: string;
                title: string;
                as_built: boolean;
            }[];
            not_planned: {
                part: string;
                name: string;
                why: string;
            }[];
            time: {
                method: string;
                sure: components["schemas"]["TimeSpread"];
                if_needed: components["schemas"]["TimeSpread"];
                by_skill: {
                    skill: string;
                    expected: number;
                    deviation: number;
                    independent: {
                        low: number;
                        high: number;
                    };
                    together: {
                        low: number;
                        high: number;
                    };
                    /** @constant */
                    unit: "h";
                }[];
            };
            calendar: components["schemas"]["Calendar"];
            estimate: components["schemas"]["Estimate"] | null;
            risks: components["schemas"]["Risks"];
            inspection: components["schemas"]["InspectionFinding"][];
            contacts: {
                accepted: components["schemas"]["KnownContact"][];
                refused: {
                    finding: string;
                    why: string;
                    by: string;
                    date: string;
                }[];
            };
            as_built: components["schemas"]["AsBuilt"][];
            variation: components["schemas"]["Variation"] | null;
            stages: components["schemas"]["Stages"] | null;
            hand_over: components["schemas"]["HandOver"];
        };
        QuestionReading: {
            understood: {
                /** @description As typed, with links, mentions and markup taken out. */
                text: string;
                /** @description tyre, wheel, part, load, people, speed, state, measured, vehicle, gears; more may come. */
                as: string;
                says: string;
            }[];
            /** @description Names beside parts that are not in the catalogue: left out. */
            names_ignored: string[];
            not_understood: {
                text: string;
                why: string;
            }[];
            /** @description Words taken for others spelt much like them. */
            spelling: {
                text: string;
                as: string;
            }[];
        };
        /**
         * @description `yes`: clear as it is. `yes_with_work`: clear after the stated work. `no`: no stated work clears it with the parts asked about. `cant_tell`: not yet.
         * @enum {string}
         */
        ShortVerdict: "yes" | "yes_with_work" | "no" | "cant_tell";
        ShortAnswer: {
            reading: components["schemas"]["QuestionReading"];
            verdict: components["schemas"]["ShortVerdict"];
            /** @description The answer in a few sentences, within the length asked for. */
            answer: string;
            assumptions: {
                text: string;
                could_flip: boolean;
            }[];
            /** @description What was checked, to be sent to /v1/checks as it is; null when nothing was understood. */
            build: components["schemas"]["CheckRequest"] | null;
            /** @description What is not clear and counts, and the finding that decides, which comes first. */
            findings: components["schemas"]["Finding"][];
            /** @description What to measure next, that of the deciding finding first. */
            measure: components["schemas"]["ToMeasure"][];
        };
        /** @description A number with what a standard, or memory of one, lets it lie between. */
        Spread: {
            value: number;
            least: number;
            most: number;
            unit: string;
        };
        TyreFacts: {
            /** @description As it is written in one form. */
            designation: string;
            /** @description metric, flotation, numeric, plain; more may come. */
            form: string;
            /** @description passenger, light-truck, commercial. */
            made_for: string;
            /** @description radial, diagonal, bias-belted. */
            construction: string;
            rim_diameter: components["schemas"]["Amount"] | null;
            dimensions: {
                /** @description Readings stand for what the size says. */
                measured: boolean;
                overall_diameter: components["schemas"]["Spread"] | null;
                section_width: components["schemas"]["Spread"] | null;
                /** @description Width of the rim the section width is told for. */
                on_rim: components["schemas"]["Amount"] | null;
                sidewall_height: components["schemas"]["Amount"] | null;
                /** @description With the deepest treads. */
                largest: {
                    overall_diameter: components["schemas"]["Amount"];
                    section_width: components["schemas"]["Amount"];
                } | null;
                worn_diameter: components["schemas"]["Amount"] | null;
                /** @description At the load and pressure asked for. */
                loaded_radius: components["schemas"]["Spread"] | null;
                rolling_circumference: components["schemas"]["Amount"] | null;
                /** @description A kilometre, or a mile. */
                revolutions: components["schemas"]["Amount"] | null;
            };
            rims: {
                measuring: components["schemas"]["Amount"];
                narrowest: components["schemas"]["Spread"];
                widest: components["schemas"]["Spread"];
            } | null;
            rating: {
                load_index: number | null;
                load_index_dual: number | null;
                load_range: string | null;
                extra_load: boolean;
                speed_symbol: string | null;
                speed: components["schemas"]["Amount"] | null;
                load: components["schemas"]["Amount"] | null;
                load_dual: components["schemas"]["Amount"] | null;
                /** @description What of the load counts on a truck. */
                on_truck: components["schemas"]["Amount"] | null;
                /** @description At which the rating holds. */
                pressure: components["schemas"]["Amount"] | null;
                greatest_pressure: {
                    least: components["schemas"]["Amount"];
                    most: components["schemas"]["Amount"];
                } | null;
            };
            loads: {
                pressure: components["schemas"]["Amount"];
                /** @description Where tables of such sizes only lie above the law, the lower load. */
                load: components["schemas"]["Amount"];
                /** @description The most that tables of such sizes print at that pressure. */
                tables_up_to?: components["schemas"]["Amount"];
                on_truck: components["schemas"]["Amount"];
            }[];
            /** @description On which side of load tables the loads and pressures told here lie. */
            safe_side: string | null;
            /** @description On the road, for the load asked for. */
            pressure_needed: components["schemas"]["Amount"] | null;
            /** @description On a truck, at the pressure asked for. */
            carries: components["schemas"]["Amount"] | null;
            off_road: {
                ground: string;
                pressure: components["schemas"]["Amount"];
                at_most: components["schemas"]["Amount"];
            }[];
            /** @description What the designation does not say. */
            not_said: string[];
            sources: components["schemas"]["Basis"][];
            cautions: string[];
        };
        /** @description Second less first, and what the standards leave open of both. */
        Difference: {
            value: number;
            least: number;
            most: number;
            unit: string;
        };
        TyreComparison: {
            from: components["schemas"]["TyreFacts"];
            to: components["schemas"]["TyreFacts"];
            differences: {
                overall_diameter: components["schemas"]["Difference"] | null;
                overall_diameter_share: components["schemas"]["Amount"] | null;
                section_width: components["schemas"]["Difference"] | null;
                ground_clearance: components["schemas"]["Difference"] | null;
                gap_round_the_tread: components["schemas"]["Difference"] | null;
                gap_beside: components["schemas"]["Difference"] | null;
                revolutions: components["schemas"]["Amount"] | null;
                rated_load: components["schemas"]["Amount"] | null;
                rated_load_on_truck: components["schemas"]["Amount"] | null;
                speed: components["schemas"]["Amount"] | null;
                same_rim: boolean | null;
            };
            speedometer: {
                at: components["schemas"]["Amount"];
                shows: components["schemas"]["Amount"];
                odometer: components["schemas"]["Amount"];
            } | null;
            gearing: {
                effective: number;
                to_match: number;
            } | null;
            says: string[];
        };
        /** @description A text where what is varied is one, as given. */
        WhatIfValue: {
            value: number | string;
            unit?: string;
        };
        WhatIfCause: {
            /** @description As the findings of a check are named. */
            id: string;
            rule: string;
            title: string;
            hazard: string;
            subject: string;
            /** @description What it is about: law; fit, where lengths are held against each other; else the area of its rule. More may come. */
            sort: string;
            /** @description It rests on what is varied. If not, it is the same all along. */
            varies: boolean;
        };
        /** @description A finding, as a check at `decided_at` tells it. */
        WhatIfDecider: {
            /** @description As the findings of a check are named. */
            id: string;
            rule: string;
            title: string;
            hazard: string;
            subject: string;
            /** @description What it is about: law; fit, where lengths are held against each other; else the area of its rule. More may come. */
            sort: string;
            /** @description It rests on what is varied. If not, it is the same all along. */
            varies: boolean;
            margin: components["schemas"]["Margin"] | null;
            says: string;
            leans?: string;
            /** @description Of one that is too close to call: what would settle it. */
            settled_by?: {
                /** @description Readings that take most of the doubt, with the share that each causes; none where no tool takes any of it. */
                readings: {
                    id: string;
                    title: string;
                    subject: string;
                    share: number;
                }[];
                /** @description Half-width of the margin that is left once all that can be read of it is. */
                leaves: components["schemas"]["Amount"] | null;
                /** @description What most of that is of: read as exactly as its tool reads, or by nobody. */
                remains: {
                    id: string;
                    title: string;
                    subject: string;
                    share: number;
                    can_be_read: boolean;
                }[];
                /** @description The chance that all of it settles the finding. */
                chance: number;
            };
            contested?: string[];
            missing: string[];
            any_of?: string[][];
        };
        WhatIfEnder: {
            /** @enum {string} */
            end: "from" | "to";
            /** @description What it is beyond. */
            verdict: components["schemas"]["Verdict"];
            /** @description As the findings of a check are named. */
            id: string;
            rule: string;
            title: string;
            hazard: string;
            subject: string;
            /** @description What it is about: law; fit, where lengths are held against each other; else the area of its rule. More may come. */
            sort: string;
            /** @description It rests on what is varied. If not, it is the same all along. */
            varies: boolean;
            /** @description Readings that may widen the stretch: they narrow what is too close to call beyond. None where it is so whatever is read. */
            widened_by: {
                id: string;
                title: string;
                subject: string;
                share: number;
            }[];
        };
        WhatIf: {
            summary: string;
            varied: {
                quantity: string;
                title: string;
                subject: string;
                step: components["schemas"]["WhatIfValue"] | null;
                plus_minus: components["schemas"]["WhatIfValue"] | null;
            };
            /** @description The verdict of the whole, stretch by stretch; a verdict may come more than once. */
            bands: {
                verdict: components["schemas"]["Verdict"];
                /** @description The first value checked that has this verdict. */
                from: components["schemas"]["WhatIfValue"];
                /** @description The last. Where the next stretch does not begin one step on, the border was not told to the step. */
                to: components["schemas"]["WhatIfValue"];
                /** @description What turns it: the findings of that verdict where a better one ends. */
                because: components["schemas"]["WhatIfCause"][];
                /** @description What makes it worse beyond either end. Empty where nothing does, and of values of their own. */
                ended_by: components["schemas"]["WhatIfEnder"][];
                /** @description The value inside it that `decided_by` is told at. null of what is clear, and beyond the first twelve values that are told. */
                decided_at: components["schemas"]["WhatIfValue"] | null;
                /** @description The findings that have its verdict there: by how much, and of those too close to call what would settle them. */
                decided_by: components["schemas"]["WhatIfDecider"][];
                /** @description How many more have its verdict there. */
                more: number;
                /** @description What the stated work leaves of it, where it was worked out: at the ends of the stretches of the whole that are not clear. */
                after_work?: {
                    value: number | string;
                    verdict: components["schemas"]["Verdict"];
                }[];
            }[];
            /** @description The same of each sort of finding by itself, of what rests on the varied value alone: where the fit ends, whatever the law has. Sorts that are clear all along are left out. */
            sorts: {
                sort: string;
                bands: {
                    verdict: components["schemas"]["Verdict"];
                    /** @description The first value checked that has this verdict. */
                    from: components["schemas"]["WhatIfValue"];
                    /** @description The last. Where the next stretch does not begin one step on, the border was not told to the step. */
                    to: components["schemas"]["WhatIfValue"];
                    /** @description What turns it: the findings of that verdict where a better one ends. */
                    because: components["schemas"]["WhatIfCause"][];
                    /** @description What makes it worse beyond either end. Empty where nothing does, and of values of their own. */
                    ended_by: components["schemas"]["WhatIfEnder"][];
                    /** @description The value inside it that `decided_by` is told at. null of what is clear, and beyond the first twelve values that are told. */
                    decided_at: components["schemas"]["WhatIfValue"] | null;
                    /** @description The findings that have its verdict there: by how much, and of those too close to call what would settle them. */
                    decided_by: components["schemas"]["WhatIfDecider"][];
                    /** @description How many more have its verdict there. */
                    more: number;
                }[];
            }[];
            /** @description Those that are not clear all along. Where one does not apply it has no stretch. */
            findings: {
                /** @description As the findings of a check are named. */
                id: string;
                rule: string;
                title: string;
                hazard: string;
                subject: string;
                /** @description What it is about: law; fit, where lengths are held against each other; else the area of its rule. More may come. */
                sort: string;
                /** @description It rests on what is varied. If not, it is the same all along. */
                varies: boolean;
                bands: {
                    verdict: components["schemas"]["Verdict"];
                    /** @description The first value checked that has this verdict. */
                    from: components["schemas"]["WhatIfValue"];
                    /** @description The last. Where the next stretch does not begin one step on, the border was not told to the step. */
                    to: components["schemas"]["WhatIfValue"];
                }[];
                /** @description What the stated work leaves of it, where it was worked out: at the ends of the stretches of the whole that are not clear. */
                after_work?: {
                    value: number | string;
                    verdict: components["schemas"]["Verdict"];
                }[];
            }[];
            /** @description Findings open as before, at the value with most of them: the planned parts do not change them, and no verdict counts them. */
            as_before: number;
            checked: {
                /** @description Every value the vehicle was checked at. */
                values: {
                    value: number | string;
                    verdict: components["schemas"]["Verdict"];
                }[];
                unit: string | null;
                /** @description The widest gap between values that were checked. What turns and turns back within one is searched for where margins that bend one way may reach; what bends both ways, or comes and goes, may be missed. null where every step was checked. */
                spacing: components["schemas"]["WhatIfValue"] | null;
                /** @description false: so much turns that not every border is told to the step. Take a shorter range. */
                to_the_step: boolean;
            };
            /** @description What the answer is not, in words: a part that is on the vehicle already is not swapped for another one. */
            remarks: string[];
            versions: {
                engine: string;
                models: string;
                rules: string;
                catalogue: string;
            };
        };
    };
    responses: never;
    parameters: never;
    requestBodies: never;
    headers: never;
    pathItems: never;
}
export type $defs = Record<string, never>;
export interface operations {
    check: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CheckRequest"];
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Answer"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    ask: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Question"];
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ShortAnswer"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    whatIf: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["WhatIfRequest"];
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["WhatIf"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listVehicles: {
        parameters: {
            query?: {
                /** @description `next` of the page before. */
                cursor?: string;
                limit?: number;
                /** @description Words to find, in any order. Where nothing has all of them, what is spelt much like them is found, the nearest first. */
                search?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["CatalogueVehicle"][];
                        /** @description Cursor of the next page; null on the last. */
                        next: string | null;
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    addVehicle: {
        parameters: {
            query?: never;
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["VehicleEntry"];
            };
        };
        responses: {
            /** @description Default Response */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CatalogueVehicle"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getVehicle: {
        parameters: {
            query?: {
                version?: number;
            };
            header?: {
                /** @description The `etag` you have; 304 when it is still the current one. */
                "if-none-match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CatalogueVehicle"];
                };
            };
            /** @description What you have is still current; no body. */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    changeVehicle: {
        parameters: {
            query?: never;
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
                /** @description The `etag` of what the change rests on; 412 when somebody has changed it since. `*` for whatever is there. */
                "if-match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["VehicleChange"];
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CatalogueVehicle"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listParts: {
        parameters: {
            query?: {
                /** @description `next` of the page before. */
                cursor?: string;
                limit?: number;
                /** @description Words to find, in any order. Where nothing has all of them, what is spelt much like them is found, the nearest first. */
                search?: string;
                kind?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["CataloguePart"][];
                        /** @description Cursor of the next page; null on the last. */
                        next: string | null;
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    addPart: {
        parameters: {
            query?: never;
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PartEntry"];
            };
        };
        responses: {
            /** @description Default Response */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CataloguePart"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getPart: {
        parameters: {
            query?: {
                version?: number;
            };
            header?: {
                /** @description The `etag` you have; 304 when it is still the current one. */
                "if-none-match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CataloguePart"];
                };
            };
            /** @description What you have is still current; no body. */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    changePart: {
        parameters: {
            query?: never;
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
                /** @description The `etag` of what the change rests on; 412 when somebody has changed it since. `*` for whatever is there. */
                "if-match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PartChange"];
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CataloguePart"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    importVehicles: {
        parameters: {
            query?: {
                /** @description `all`: all rows or none. `good`: those without faults. */
                take?: "all" | "good";
                /** @description Headings of columns to leave out, separated by commas. One that nobody knows is refused otherwise. */
                ignore?: string;
            };
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": unknown[] | string;
                "text/csv": unknown[] | string;
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportReport"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    importParts: {
        parameters: {
            query?: {
                /** @description `all`: all rows or none. `good`: those without faults. */
                take?: "all" | "good";
                /** @description Headings of columns to leave out, separated by commas. One that nobody knows is refused otherwise. */
                ignore?: string;
            };
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": unknown[] | string;
                "text/csv": unknown[] | string;
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportReport"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listBuilds: {
        parameters: {
            query?: {
                /** @description `next` of the page before. */
                cursor?: string;
                limit?: number;
                /** @description Words to find, in any order. Where nothing has all of them, what is spelt much like them is found, the nearest first. */
                search?: string;
                /** @description Made on this vehicle of the catalogue. */
                vehicle?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["BuildSummary"][];
                        /** @description Cursor of the next page; null on the last. */
                        next: string | null;
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createBuild: {
        parameters: {
            query?: never;
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["BuildWrite"];
            };
        };
        responses: {
            /** @description Default Response */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedBuild"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getBuild: {
        parameters: {
            query?: never;
            header?: {
                /** @description The `etag` you have; 304 when it is still the current one. */
                "if-none-match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedBuild"];
                };
            };
            /** @description What you have is still current; no body. */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    changeBuild: {
        parameters: {
            query?: never;
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
                /** @description The `etag` of what the change rests on; 412 when somebody has changed it since. `*` for whatever is there. */
                "if-match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["BuildWrite"];
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedBuild"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    deleteBuild: {
        parameters: {
            query?: never;
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
                /** @description The `etag` of what the change rests on; 412 when somebody has changed it since. `*` for whatever is there. */
                "if-match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description It is deleted; no body. */
            204: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            410: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    restoreBuild: {
        parameters: {
            query?: never;
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
                /** @description The `etag` of what the change rests on; 412 when somebody has changed it since. `*` for whatever is there. */
                "if-match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Restore"];
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedBuild"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listRevisions: {
        parameters: {
            query?: {
                /** @description `next` of the page before. */
                cursor?: string;
                limit?: number;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Revision"][];
                        /** @description Cursor of the next page; null on the last. */
                        next: string | null;
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getRevision: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
                revision: number;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedBuild"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listMeasurements: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Measurement"][];
                    };
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    measure: {
        parameters: {
            query?: never;
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
                /** @description The `etag` of what the change rests on; 412 when somebody has changed it since. `*` for whatever is there. */
                "if-match"?: string;
            };
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["MeasurementWrite"];
            };
        };
        responses: {
            /** @description Default Response */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedBuild"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    dropMeasurement: {
        parameters: {
            query?: never;
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
                /** @description The `etag` of what the change rests on; 412 when somebody has changed it since. `*` for whatever is there. */
                "if-match"?: string;
            };
            path: {
                id: string;
                measurement: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedBuild"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listSavedChecks: {
        parameters: {
            query?: {
                /** @description `next` of the page before. */
                cursor?: string;
                limit?: number;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["SavedCheckSummary"][];
                        /** @description Cursor of the next page; null on the last. */
                        next: string | null;
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    checkBuild: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CheckAsking"];
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedCheck"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getSavedCheck: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
                check: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedCheck"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    compare: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ComparisonRequest"];
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Comparison"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listKinds: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Kind"][];
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getKind: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Kind"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listQuantities: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Quantity"][];
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getQuantity: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Quantity"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listRules: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Rule"][];
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getRule: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Rule"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listWorks: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Work"][];
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getWork: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Work"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listSources: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Source"][];
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getSource: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Source"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listClasses: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["VehicleClass"][];
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getClass: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["VehicleClass"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listJurisdictions: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["Jurisdiction"][];
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getJurisdiction: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Jurisdiction"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    checkSheet: {
        parameters: {
            query?: {
                units?: "metric" | "us";
                /** @description What each row is; left out, the headings tell. */
                rows?: "build" | "part";
                /** @description Name of the sheet in a workbook; left out, the first that is not hidden. */
                sheet?: string;
                /** @description Id or name of the vehicle, or id of the class, of rows that name none. */
                vehicle?: string;
                /** @description What the job is called, such as the name of the file. */
                name?: string;
            };
            header?: {
                /** @description A text of your own, new for each write. The same write sent again with it within 24 hours is answered, not done again. */
                "idempotency-key"?: string;
                /** @description `respond-async` for a job in any case (RFC 7240). */
                prefer?: string;
            };
            path?: never;
            cookie?: never;
        };
        /** @description The file. */
        requestBody: {
            content: {
                "text/csv": unknown;
                "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": unknown;
                "application/octet-stream": unknown;
            };
        };
        responses: {
            /** @description The sheet */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/csv": string;
                    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": string;
                };
            };
            /** @description Default Response */
            202: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SheetJob"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listSheets: {
        parameters: {
            query?: {
                /** @description `next` of the page before. */
                cursor?: string;
                limit?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["SheetJob"][];
                        /** @description Cursor of the next page; null on the last. */
                        next: string | null;
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listSheetHeadings: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["SheetHeading"][];
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getSheet: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SheetJob"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    removeSheet: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description It is gone. */
            204: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getSheetResult: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The sheet */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/csv": string;
                    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": string;
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    cancelSheet: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SheetJob"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    resumeSheet: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SheetJob"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getCell: {
        parameters: {
            query?: {
                /** @description Of `POST /v1/cell-tokens`; needed when the service was started with keys. */
                token?: string;
                /** @description metric or us */
                units?: string;
                /** @description Id of a saved build. */
                build?: string;
                /** @description Id or name of a vehicle of the catalogue. */
                vehicle?: string;
            };
            header?: {
                /** @description The `etag` you have; 304 when it is still the current one. */
                "if-none-match"?: string;
            };
            path: {
                /** @description One of verdict, item, margin, margin-tolerance, margin-unit, hours, hours-low, hours-high, mass-front, mass-rear, amps, conflicts, measure. */
                what: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The value */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/plain": string;
                };
            };
            /** @description What you have is still current; no body. */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listCellTokens: {
        parameters: {
            query?: {
                /** @description `next` of the page before. */
                cursor?: string;
                limit?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["CellToken"][];
                        /** @description Cursor of the next page; null on the last. */
                        next: string | null;
                    };
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createCellToken: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CellTokenWrite"];
            };
        };
        responses: {
            /** @description Default Response */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["NewCellToken"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    revokeCellToken: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CellToken"];
                };
            };
            /** @description Default Response */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getTyre: {
        parameters: {
            query?: {
                /** @description Width of the rim it is on, such as `8.5 in`; the measuring rim where left out. */
                rim_width?: string;
                /** @description What one tyre carries, such as `650 kg`. */
                load?: string;
                /** @description Cold, such as `240 kPa` or `35 psi`. */
                pressure?: string;
                /** @description As taped; stands for what the size says. */
                measured_diameter?: string;
                measured_width?: string;
                /** @description Tread depth when new, such as `11 mm`; with `tread`, for the worn diameter. */
                new_tread?: string;
                tread?: string;
                units?: "metric" | "us";
            };
            header?: never;
            path: {
                /** @description As on the sidewall or as people say it, with its strokes as `%2F` or dashes: `LT285-70R17 121-118Q E`, `33x12.50R15`, `33s`. */
                designation: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["TyreFacts"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    compareTyres: {
        parameters: {
            query?: {
                /** @description Width of the rim it is on, such as `8.5 in`; the measuring rim where left out. */
                rim_width?: string;
                /** @description What one tyre carries, such as `650 kg`. */
                load?: string;
                /** @description Cold, such as `240 kPa` or `35 psi`. */
                pressure?: string;
                /** @description As taped; stands for what the size says. */
                measured_diameter?: string;
                measured_width?: string;
                /** @description Tread depth when new, such as `11 mm`; with `tread`, for the worn diameter. */
                new_tread?: string;
                tread?: string;
                units?: "metric" | "us";
            };
            header?: never;
            path: {
                /** @description As on the sidewall or as people say it, with its strokes as `%2F` or dashes: `LT285-70R17 121-118Q E`, `33x12.50R15`, `33s`. */
                designation: string;
                /** @description As on the sidewall or as people say it, with its strokes as `%2F` or dashes: `LT285-70R17 121-118Q E`, `33x12.50R15`, `33s`. */
                other: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["TyreComparison"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    plan: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PlanRequest"];
            };
        };
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Plan"];
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    planSheet: {
        parameters: {
            query?: {
                form?: "markdown" | "csv" | "xlsx";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PlanRequest"];
            };
        };
        responses: {
            /** @description The plan as a file of the form asked for. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/csv": string;
                    "text/markdown": string;
                    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": string;
                };
            };
            /** @description Default Response */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    live: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        /** @enum {string} */
                        state: "ok";
                    };
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
    ready: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Default Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        /** @enum {string} */
                        state: "ok";
                    };
                };
            };
            /** @description Default Response */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
            /** @description Default Response */
            default: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Problem"];
                };
            };
        };
    };
}
