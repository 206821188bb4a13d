using Acquire.Analysis.Uncertainty;

namespace Acquire.Commands.Strips;

/// <summary><c>acquire strip level</c>: how sure a verdict must be.</summary>
internal static class StripLevelCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var level = new Argument<double?>("level")
        {
            Description = "Probability, above 0.5 and below 1, such as 0.95. Shows the setting when not given.",
            HelpName = "P",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var command = new Command("level", "Settle how sure a verdict of in or out of control must be.") { level };
        command.SetAction(parsed =>
        {
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var settings = Settings.Of(folder);
            if (parsed.GetValue(level) is { } wanted)
            {
                settings = settings with { VerdictLevel = Checked(wanted) };
                settings.Save(folder);
            }

            surroundings.Out.Line($"Verdicts ask for {Of(settings).ToString("0.## %", CultureInfo.InvariantCulture)}.");
            return ExitCode.Done;
        });
        return command;
    }

    public static Option<double?> Option() => new("--level")
    {
        Description = "How sure a verdict must be, such as 0.95; for this once, instead of what 'acquire strip level' settled.",
        HelpName = "P",
    };

    /// <summary>What the user says now, or else settled before.</summary>
    public static double InForce(ParseResult parsed, Option<double?>? option = null) =>
        option is not null && parsed.GetValue(option) is { } wanted
            ? Checked(wanted)
            : Of(Settings.Of(DataFolder.Resolve(parsed.GetValue(Common.Data))));

    private static double Of(Settings settings) => Checked(settings.VerdictLevel ?? Verdicts.UsualLevel);

    private static double Checked(double level) => level is > 0.5 and < 1
        ? level
        : throw new BenchException(string.Create(
            CultureInfo.InvariantCulture,
            $"{level} is no level of a verdict; expected a probability above 0.5 and below 1, such as 0.95."));
}
