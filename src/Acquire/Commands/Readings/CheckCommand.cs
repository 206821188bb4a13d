using Acquire.Bench.Readings;
using Acquire.Bench.Trust;
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
        var from = new Option<string?>("--from") { Description = "Take the readings from a CSV file instead: patch,read,red,green,blue "
            + "or patch,read,visual; with --profile they are of that instrument, else of any.", HelpName = "FILE" };
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
            switch (parsed.GetValue(from), options.Port(parsed), options.Profile(parsed))
            {
                case (null, { }, { }):
                    var terms = options.Terms(parsed);
                    return await options.ReadAsync(
                        parsed,
                        place => place.Desk.ReadAsync(new CheckRequest(name), terms, place.Seat, cancellationToken), cancellationToken);
                case ({ } file, null, var profile):
                    await using (var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken))
                    {
                        var of = profile is null ? null : Common.InstrumentOfFile(parsed, profile, file);
                        var reads = await ReadsCsv.ReadAsync(file, cancellationToken).ToListAsync(cancellationToken);
                        return options.Kept(
                            parsed, await new CheckBook(store, surroundings.Time).EnterAsync(
                                name, reads, of, options.By(parsed), cancellationToken));
                    }

                default:
                    throw new BenchException("Give either --port and --profile to read the plaque, or --from FILE with readings of it, "
                        + "and --profile where their instrument is known.");
            }
        });
        return command;
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the calibration checks.") { json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var checks = await new CheckBook(store, surroundings.Time).ListAsync(cancellationToken);
            CheckReport.WriteList(surroundings.Out, checks, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}
