using Acquire.Analysis.Gauge;
using Acquire.Bench.Readings;
using Acquire.Bench.Trust;
using Acquire.Commands.Instruments;
using Acquire.Formats.Csv;
using Acquire.Rendering.Trust;

namespace Acquire.Commands.Readings;

/// <summary><c>acquire repeatability</c>: how well the instrument repeats.</summary>
internal static class RepeatabilityCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var options = new RepeatabilityOptions(surroundings);
        var command =
            new Command(
                "repeatability",
                "Test how well the instrument repeats: patches read many times, placed anew in between. Where a file has the columns "
                + "person "
                + "or instrument, what each of them adds is told apart. Examples: 'acquire repeatability --instrument NAME "
                + "--patches ld,hd'; 'acquire repeatability --from class.csv --process c41 --html gauge.html'.");
        options.AddTo(command);
        command.Add(BuildList(surroundings));
        command.SetAction((parsed, cancellationToken) =>
            (parsed.GetValue(options.From), options.Reading.Instrument.Port(parsed)) switch
            {
                (null, _) => AtInstrumentAsync(parsed, options, surroundings, cancellationToken),
                ({ } file, null) when options.Reading.Instrument.IsSaid(parsed) =>
                    KeepFileAsync(parsed, options, file, surroundings, cancellationToken),
                ({ } file, null) => FromFileAsync(parsed, options, file, surroundings, cancellationToken),
                _ => throw new BenchException("--port is where patches are read, and --from FILE has readings of them: leave one of them "
                    + "out. Say with --instrument which instrument they are of, to keep them as a test of it."),
            });
        return command;
    }

    private static async Task<int> FromFileAsync(
        ParseResult parsed, RepeatabilityOptions options, string file, Surroundings surroundings, CancellationToken cancellationToken)
    {
        var reads = await ReadsCsv.ReadAsync(file, cancellationToken).ToListAsync(cancellationToken);
        if (reads.FirstOrDefault(r => !r.IsDensities) is { } odd)
        {
            surroundings.Error.Line($"{odd.Place}: these numbers are no densities; they are reckoned with as they are.");
        }

        if (TestReads.Crossed(reads) is { } crossed)
        {
            return await WriteAsync(parsed, options, crossed, surroundings, cancellationToken);
        }

        RefuseTolerance(parsed, options);
        var data = TestReads.Of(reads);
        var report =
            RepeatabilityStudy.Of(data, RepeatabilitySpecification.Same(parsed.GetValue(options.Specification)), options.Sheet(parsed));
        return await WriteAsync(parsed, options, data, report, null, surroundings, cancellationToken);
    }

    /// <summary>Readings whose instrument is known are kept, and count like a test that was read at it.</summary>
    private static async Task<int> KeepFileAsync(
        ParseResult parsed,
        RepeatabilityOptions options,
        string file,
        Surroundings surroundings,
        CancellationToken cancellationToken)
    {
        _ = parsed.GetValue(options.Html) is { } page ? OutFile.At(parsed, page) : null;
        var reads = await ReadsCsv.ReadAsync(file, cancellationToken).ToListAsync(cancellationToken);
        if (TestReads.Crossed(reads) is not null)
        {
            throw new BenchException($"{file}: several persons or instruments read here. A test that is kept is one person's on one "
                + "instrument; without --instrument the study is made and not kept.");
        }

        RefuseTolerance(parsed, options);
        await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
        var instrument = await InstrumentOptions.Book(parsed, store, surroundings)
            .OfFileAsync(options.Reading.Instrument.Choice(parsed), file, cancellationToken);
        var kept = await new RepeatabilityEntry(store, surroundings.Time).EnterAsync(
            reads, instrument, parsed.GetValue(options.Specification), options.Reading.By(parsed), cancellationToken);
        surroundings.Error.Line(
            $"Kept as a repeatability test of {instrument.Name}; what is read with it from now on rests on it.");
        return await WriteAsync(parsed, options, kept, surroundings, cancellationToken);
    }

    private static async Task<int> WriteAsync(
        ParseResult parsed, RepeatabilityOptions options, CrossedData data, Surroundings surroundings, CancellationToken cancellationToken)
    {
        var study = CrossedStudy.Of(
            data, RepeatabilitySpecification.Same(parsed.GetValue(options.Specification)), options.Sheet(parsed),
            parsed.GetValue(options.Tolerance));
        if (options.Reading.Json(parsed))
        {
            JsonOutput.Write(surroundings.Out, CrossedJson.Of(study));
        }
        else
        {
            CrossedText.Write(surroundings.Out, study);
        }

        if (parsed.GetValue(options.Html) is { } page)
        {
            await OutFile.At(parsed, page).WriteAsync(CrossedHtml.Of(study, surroundings.Time), cancellationToken);
            surroundings.Error.Line($"Report written to {page}.");
        }

        return study.Passes ? ExitCode.Done : ExitCode.OutOfControl;
    }

    private static void RefuseTolerance(ParseResult parsed, RepeatabilityOptions options)
    {
        if (parsed.GetValue(options.Tolerance) is not null)
        {
            throw new BenchException("--tolerance belongs to a study of several persons or instruments: --from FILE with the column "
                + "person or "
                + "instrument, and more than one of them. For the limits of a process give --process.");
        }
    }

    private static async Task<int> AtInstrumentAsync(
        ParseResult parsed, RepeatabilityOptions options, Surroundings surroundings, CancellationToken cancellationToken)
    {
        RefuseTolerance(parsed, options);
        // Both are asked now, for their errors: after a hundred readings a page that cannot be written comes too late.
        _ = parsed.GetValue(options.Html) is { } page ? OutFile.At(parsed, page) : null;
        _ = options.Sheet(parsed);
        var patches = (parsed.GetValue(options.Patches) ?? "patch").Split(
            ',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var request = new RepeatabilityRequest(
            new StripLayout("repeatability test", [.. patches.Select(p => new Patch(p, p))]),
            parsed.GetValue(options.Still), parsed.GetValue(options.Specification));
        return await options.Reading.ReadAsync(
            parsed,
            async place => await place.Desk.ReadAsync(
                request, await options.Reading.TermsAsync(parsed, place, cancellationToken), place.TakeSeat(), cancellationToken),
            kept => WriteAsync(parsed, options, kept, surroundings, cancellationToken),
            cancellationToken);
    }

    private static Task<int> WriteAsync(
        ParseResult parsed, RepeatabilityOptions options, KeptTest kept, Surroundings surroundings, CancellationToken cancellationToken) =>
        WriteAsync(
            parsed,
            options,
            RepeatabilityData.Of(kept.Test.Patches, kept.Test.ReadsPerPlacement),
            RepeatabilityStudy.Of(kept.Test, options.Sheet(parsed)),
            kept.Comparison,
            surroundings,
            cancellationToken);

    private static async Task<int> WriteAsync(
        ParseResult parsed,
        RepeatabilityOptions options,
        RepeatabilityData data,
        RepeatabilityReport report,
        RepeatabilityComparison? comparison,
        Surroundings surroundings,
        CancellationToken cancellationToken)
    {
        if (options.Reading.Json(parsed))
        {
            JsonOutput.Write(surroundings.Out, RepeatabilityJson.Of(report, comparison));
        }
        else
        {
            RepeatabilityText.Write(surroundings.Out, report, comparison);
        }

        if (parsed.GetValue(options.Html) is { } page)
        {
            await OutFile.At(parsed, page).WriteAsync(RepeatabilityHtml.Of(data, report, comparison, surroundings.Time), cancellationToken);
            surroundings.Error.Line($"Report written to {page}.");
        }

        return report.Passes ? ExitCode.Done : ExitCode.OutOfControl;
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the repeatability tests.") { json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var tests = await new RepeatabilityBook(store).ListAsync(cancellationToken);
            RepeatabilityText.WriteList(surroundings.Out, tests, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}

internal sealed class RepeatabilityOptions(Surroundings surroundings)
{
    private readonly Option<string?> _process = new("--process")
    {
        Description = "Hold the scatter against the limits of this process, such as c41.",
        HelpName = "KEY",
    };

    /// <summary>Those of every reading.</summary>
    public ReadingOptions Reading { get; } = new(surroundings, reads: 10);

    public Option<string?> From { get; } = new("--from")
    {
        Description =
            "Take the readings from a CSV file instead: patch,read,red,green,blue or patch,read,visual; placement, person and "
            + "instrument may "
            + "be there too. With --instrument they are kept as a test of that one, else only judged.",
        HelpName = "FILE",
    };

    public Option<string?> Patches { get; } = new("--patches")
    {
        Description = "The patches to read, with commas between: any words, such as ld,hd; one patch when not given.",
        HelpName = "LIST",
    };

    public Option<int> Still { get; } = new("--still")
    {
        Description = "How many of the reads follow each other without moving the patch, to tell the placing apart; divides --reads.",
        HelpName = "N",
        DefaultValueFactory = _ => 1,
    };

    public Option<double> Specification { get; } = new("--specification")
    {
        Description = "The largest standard deviation of one re-placed read that is accepted, in density.",
        HelpName = "S",
        DefaultValueFactory = _ => RepeatabilitySpecification.Usual,
    };

    public Option<double?> Tolerance { get; } = Given.Option<double?>(
        "--tolerance", "W", "With several persons or instruments: a whole width, such as 0.12 for ±0.06, that the gauge is held against.");

    public Option<string?> Html { get; } =
        new("--html") { Description = "Write the report with a plot to one HTML file too.", HelpName = "FILE" };

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[From, Patches, Still, Specification, Tolerance, _process, Html, OutFile.Force])
        {
            command.Options.Add(option);
        }

        Reading.AddTo(command);
    }

    /// <summary>The process whose limits are wanted; null when none is.</summary>
    public ProcessSheet? Sheet(ParseResult parsed) => parsed.GetValue(_process) is { } key ? Common.Processes(parsed).Get(key) : null;
}
