using Acquire.Bench.Lots;
using Acquire.Rendering.Lots;

namespace Acquire.Commands.Lots;

/// <summary><c>acquire lot crossover</c>: the change to a new code number.</summary>
internal static class LotCrossoverCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var old = new Argument<string>("old") { Description = "Code number of the old lot.", HelpName = "OLD" };
        var young = new Argument<string>("new") { Description = "Code number of the new lot.", HelpName = "NEW" };
        var pairs = new Option<string?>("--pairs")
        {
            Description =
                "Strips that were processed together, beside those read with --pair: the old lot's first, e.g. 3f2a:9c41,77b0:12de.",
            HelpName = "OLD:NEW,…",
        };
        var accept = new Option<bool>("--accept") { Description = "Adjust the new lot's aims as proposed, for strips read from now on." };
        var reason = new Option<string?>("--reason") { Description = "Why it is accepted; kept with it.", HelpName = "WHY" };
        var by = Common.By();
        var json = Common.Json();
        var command = new Command(
            "crossover",
            "Compare strips of the old and the new lot that were processed together, and propose aims. Nothing changes without --accept.")
        {
            old, young, pairs, accept, reason, by, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var why = parsed.GetValue(reason);
            if (parsed.GetValue(accept) != why is not null)
            {
                throw new BenchException("--accept and --reason go together: an adjusted aim is kept with why it was adjusted.");
            }

            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var crossovers = new LotCrossover(store, Common.Lots(parsed, store, surroundings), surroundings.Time);
            var crossover = await crossovers.CompareAsync(
                parsed.GetRequiredValue(old), parsed.GetRequiredValue(young), [.. Pairs(parsed.GetValue(pairs))], cancellationToken);
            var accepted = why is null
                ? null
                : await crossovers.AcceptAsync(crossover, parsed.GetValue(by) ?? surroundings.User, why, cancellationToken);
            var inForce = accepted ?? await crossovers.InForceAsync(crossover, cancellationToken);
            CrossoverReport.Write(surroundings.Out, crossover, inForce, accepted is not null, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static IEnumerable<(string Old, string New)> Pairs(string? text) =>
        (text ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
            .Select(p => p.Split(':', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries) is [var one, var other]
                ? (one, other)
                : throw new BenchException(
                    $"Cannot read the pair '{p}': expected the strip of the old lot, a colon, and that of the new lot, such as "
                    + $"3f2a:9c41."));
}
