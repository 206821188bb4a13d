using Acquire.Analysis.Uncertainty;
using Acquire.Bench.History;
using Acquire.Bench.Trust;
using Acquire.Rendering.Strips;

namespace Acquire.Commands.Strips;

/// <summary><c>acquire strip level</c>: how sure a verdict must be, and what that means as a guard band and in risks.</summary>
internal static class StripLevelCommand
{
    /// <summary>A guard band this wide leaves a chance of 1 in 10⁹; more is no rule.</summary>
    private const double WidestBand = 3;

    public static Command Build(Surroundings surroundings)
    {
        var level = new Argument<double?>("level")
        {
            Description = "Probability, above 0.5 and below 1, such as 0.95. Shows the setting when not given.",
            HelpName = "P",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var guard = Given.Option<double?>(
            "--guard-band", "R", "Settle it as a guard band inside the limit instead, w = R · U with U = 2 u, above 0 and up to 3; "
            + "0.82 is 95 %, 1 is 97.7 %.");
        var strip = Given.Option<string?>(
            "--strip", "ID", "Show for this strip where 'in' and 'out' can be said, and what each verdict risks.");
        var json = Common.Json();
        var command = new Command(
            "level",
            "Settle how sure a verdict of in or out of control must be, and show what it risks. Examples: 'acquire strip level 0.95'; "
            + "'acquire strip level --guard-band 1'; 'acquire strip level --strip 3f2a'.") { level, guard, strip, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var settings = Settings.Of(folder);
            if (Wanted(parsed.GetValue(level), parsed.GetValue(guard)) is { } wanted)
            {
                settings = settings with { VerdictLevel = settings.Level(wanted) };
                await settings.SaveAsync(folder, cancellationToken);
            }

            StripRisks? risks = null;
            if (parsed.GetValue(strip) is { } id)
            {
                await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
                risks = await StripRisks.OfAsync(store, id, settings.Level(), surroundings.Time, cancellationToken);
            }

            RiskReport.Write(surroundings.Out, settings.Level(), risks, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static double? Wanted(double? level, double? guard) => (level, guard) switch
    {
        (not null, not null) => throw new BenchException("Give the level or the guard band; one follows from the other."),
        (_, { } r) => r is > 0 and <= WidestBand ? GuardBand.LevelOf(r) : throw new BenchException(string.Create(
            CultureInfo.InvariantCulture,
            $"{r} is no guard band; expected R of w = R · U above 0 and up to {WidestBand}, such as 0.82 for 95 %.")),
        _ => level,
    };

    public static Option<double?> Option() => new("--level")
    {
        Description = "How sure a verdict must be, such as 0.95; for this once, instead of what 'acquire strip level' settled.",
        HelpName = "P",
    };

    /// <summary>What the user says now, or else settled before.</summary>
    public static double InForce(ParseResult parsed, Option<double?>? option = null) =>
        Settings.Of(DataFolder.Resolve(parsed.GetValue(Common.Data))).Level(option is null ? null : parsed.GetValue(option));
}
