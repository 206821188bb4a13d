using System.CommandLine.Parsing;
using Acquire.Instruments.Learning;
using Acquire.Instruments.Links;

namespace Acquire.Commands.Instruments;

/// <summary>Options of learning at the port.</summary>
internal sealed class LiveLearnOptions
{
    private readonly Option<int?> _baud = new("--baud") {
        Description = "With --port: bits per second, where they are known; the usual ones are tried when not given.",
        HelpName = "N" };
    private readonly Option<string?> _keep =
        new("--keep") { Description = "With --port: also write all that comes to this new file, for 'acquire replay'.", HelpName = "FILE" };
    private readonly Option<double> _patience = new("--patience")
    {
        Description =
            "With --port: how long a reading is waited for before you are asked.", HelpName = "SECONDS", DefaultValueFactory = _ => 30,
    };

    public LiveLearnOptions() => _patience.Validators.Add(result =>
    {
        if (result.GetValueOrDefault<double>() is not (>= 1 and <= 3600))
        {
            result.AddError("--patience takes 1 to 3600 seconds.");
        }
    });

    public void AddTo(Command command)
    {
        command.Options.Add(_baud);
        command.Options.Add(_keep);
        command.Options.Add(_patience);
    }

    public bool IsGiven(CommandResult result) =>
        result.GetResult(_baud) is not null || result.GetResult(_keep) is not null || result.GetResult(_patience) is { Implicit: false };

    public string? Keep(ParseResult parsed) => parsed.GetValue(_keep);

    public LiveRequest Request(
        ParseResult parsed, string port, ImmutableArray<Channel> channels, string name) => new(LinkAddress.Parse(port), channels, name)
    {
        Baud = parsed.GetValue(_baud), Patience = TimeSpan.FromSeconds(parsed.GetValue(_patience)),
    };
}
