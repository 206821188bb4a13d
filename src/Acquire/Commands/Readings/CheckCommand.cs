using Acquire.Bench.Readings;
using Acquire.Bench.Trust;
using Acquire.Commands.Instruments;
using Acquire.Formats.Csv;
using Acquire.Rendering.Trust;

namespace Acquire.Commands.Readings;

/// <summary><c>acquire check</c>: a calibration check of the instrument with a plaque.</summary>
internal static class CheckCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var plaque =
            new Option<string?>("--plaque") { Description = "The plaque: a name that 'acquire plaque list' shows.", HelpName = "NAME" };
        var from = new Option<string?>("--from")
        {
            Description = "Take the readings from a CSV file instead: patch,read,red,green,blue or patch,read,visual; "
                + "with --instrument they are of that one, else of any.",
            HelpName = "FILE",
        };
        var options = new ReadingOptions(surroundings);
        var command = new Command("check", "Check the instrument against a plaque with certified densities.")
        {
            plaque, from, BuildList(surroundings), CheckRequireCommand.Build(surroundings),
        };
        options.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var name = parsed.GetValue(plaque)
                ?? throw new BenchException("Name the plaque: --plaque NAME. 'acquire plaque list' shows those there are.");
            switch (parsed.GetValue(from), options.Instrument.Port(parsed))
            {
                case (null, _):
                    return await options.ReadAsync(
                        parsed,
                        async place => await place.Desk.ReadAsync(
                            new CheckRequest(name), await options.TermsAsync(parsed, place, cancellationToken), place.TakeSeat(),
                            cancellationToken),
                        cancellationToken);
                case ({ } file, null):
                    await using (var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken))
                    {
                        var of = options.Instrument.IsSaid(parsed)
                            ? await InstrumentOptions.Book(parsed, store, surroundings)
                                .OfFileAsync(options.Instrument.Choice(parsed), file, cancellationToken)
                            : null;
                        var reads = await ReadsCsv.ReadAsync(file, cancellationToken).ToListAsync(cancellationToken);
                        var kept = await new CheckBook(store, surroundings.Time)
                            .EnterAsync(name, reads, of, options.By(parsed), cancellationToken);
                        return options.Kept(parsed, kept);
                    }

                default:
                    throw new BenchException("--port is where a plaque is read, and --from FILE has readings of it: leave one of them out. "
                        + "Say with --instrument which instrument they are of.");
            }
        });
        return command;
    }

    private static Command BuildList(Surroundings surroundings) => Common.Shows(
        new Command("list", "List the calibration checks."),
        surroundings,
        (_, store, cancellationToken) => new CheckBook(store, surroundings.Time).ListAsync(cancellationToken),
        CheckReport.WriteList);
}

/// <summary><c>acquire check require</c>: what happens to strips that are read without a calibration check in force.</summary>
internal static class CheckRequireCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var requirement = new Argument<CheckRequirement?>("what")
        {
            Description =
                "warn: say so · mark: note it in the strip's record too · block: do not read the strip. Shows the setting when not given.",
            HelpName = "warn|mark|block",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var command = new Command("require", "Settle what happens to strips that are read without a check in force.") { requirement };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var settings = Settings.Of(folder);
            if (parsed.GetValue(requirement) is { } wanted)
            {
                settings = settings with { RequireCheck = wanted };
                await settings.SaveAsync(folder, cancellationToken);
            }

            surroundings.Out.Line(settings.RequireCheck switch
            {
                CheckRequirement.Block => "block: a strip is read only while a check is in force.",
                CheckRequirement.Mark => "mark: a strip that is read without a check in force says so in its record.",
                CheckRequirement.Warn => "warn: who reads a strip without a check in force is told.",
                _ => "Nothing settled: who has a plaque and reads a strip without a check in force is told.",
            });
            return ExitCode.Done;
        });
        return command;
    }

    public static Option<CheckRequirement?> Option() => new("--require-check")
    {
        Description = "What happens when no calibration check is in force; for this once, instead of what 'acquire check require' settled.",
        HelpName = "warn|mark|block",
    };

    /// <summary>What the user says now, or else settled before.</summary>
    public static CheckRequirement? InForce(ParseResult parsed, Option<CheckRequirement?> option) =>
        parsed.GetValue(option) ?? Settings.Of(DataFolder.Resolve(parsed.GetValue(Common.Data))).RequireCheck;
}
