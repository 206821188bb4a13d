using Acquire.Bench.Trust;

namespace Acquire.Commands.Readings;

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
        command.SetAction(parsed =>
        {
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var settings = Settings.Of(folder);
            if (parsed.GetValue(requirement) is { } wanted)
            {
                settings = settings with { RequireCheck = wanted };
                settings.Save(folder);
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
