using Acquire.Analysis.Gauge;

namespace Acquire.Commands.Readings;

/// <summary>The options of <c>acquire repeatability</c>.</summary>
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
            "Take the readings from a CSV file instead: patch,read,red,green,blue or patch,read,visual; placement may be there too. "
            + "With --profile they are kept as a test of that instrument, else only judged.",
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

    public Option<string?> Html { get; } =
        new("--html") { Description = "Write the report with a plot to one HTML file too.", HelpName = "FILE" };

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[From, Patches, Still, Specification, _process, Html, OutFile.Force])
        {
            command.Options.Add(option);
        }

        Reading.AddTo(command);
    }

    /// <summary>The process whose limits are wanted; null when none is.</summary>
    public ProcessSheet? Sheet(ParseResult parsed) => parsed.GetValue(_process) is { } key ? Common.Processes(parsed).Get(key) : null;
}
