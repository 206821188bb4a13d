using Acquire.Bench.Lots;
using Acquire.Rendering.Lots;

namespace Acquire.Commands.Lots;

/// <summary><c>acquire lot baseline</c>: a reference of the user's own five strips, where the maker gives none.</summary>
internal static class LotBaselineCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var code = Common.LotCode();
        var strips = new Option<string?>("--strips")
        {
            Description = "The strips to average; the last five read with --baseline when not given.",
            HelpName = "ID,…",
        };
        var by = Common.By();
        var json = Common.Json();
        var command = new Command(
            "baseline", "Make the reference of a lot from five own strips, one of each of five days, where the maker gives none.")
        {
            code, strips, by, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var ids = (parsed.GetValue(strips) ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var made = await new LotBaseline(store, Common.Lots(parsed, store, surroundings), surroundings.Time)
                .MakeAsync(parsed.GetRequiredValue(code), [.. ids], parsed.GetValue(by) ?? surroundings.User, cancellationToken);
            if (made.Warning is { } warning)
            {
                surroundings.Error.Line(warning);
            }

            LotReport.WriteOne(
                surroundings.Out,
                made.Entry.Lot, made.Entry.Reference, made.Entry.InForce.Aims, null, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}
