using System.CommandLine.Parsing;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Learning;
using Acquire.Instruments.Links;
using Acquire.Terminal;

namespace Acquire.Commands.Instruments;

/// <summary>Learning at the port: the conversation on standard error and standard input, the profile written at its end.</summary>
internal static class LiveLearnRun
{
    public static async Task<int> RunAsync(
        LiveRequest request,
        WholeFile output,
        string? keep,
        ParseResult parsed,
        Surroundings surroundings,
        CancellationToken cancellationToken)
    {
        if (request is { CanSet: false, Baud: not null })
        {
            surroundings.Error.Line($"{request.Address} passes raw bytes, so --baud sets nothing there; the rate is set at the server.");
            return ExitCode.BadInput;
        }

        using var logs = Common.Logs(parsed);
        var links = Common.Links(parsed, surroundings, logs);
        var begun = new LinkSettings { Baud = request.Baud ?? LiveRequest.FirstRate };
        using var recording = keep is null
            ? null
            : new RecordingOpener(
                links,
                () => CaptureWriter.Create(OutFile.New(keep), surroundings.Time, request.Address.ToString()!, null, LinkWords.Of(begun)));
        var desk = new LearningDesk(surroundings);
        switch (await new LiveLearning((ILinkOpener?)recording ?? links, desk, surroundings.Time).RunAsync(request, cancellationToken))
        {
            case LearningResult.Learned learned:
                await LearnedFile.WriteAsync(output, learned, surroundings, "by a reading you confirmed", cancellationToken);
                return ExitCode.Done;
            case LearningResult.Declined declined:
                surroundings.Error.Line($"No profile was written to {output.Name}:");
                foreach (var reason in declined.Reasons)
                {
                    surroundings.Error.Line($"  {reason}");
                }

                return ExitCode.BadInput;
            case var other:
                throw new InvalidOperationException($"{other} is no result of learning.");
        }
    }
}

internal sealed class LiveLearnOptions
{
    private readonly Option<int?> _baud = new("--baud")
    {
        Description = "With --port: bits per second, where they are known; the usual ones are tried when not given.",
        HelpName = "N",
    };
    private readonly Option<string?> _keep =
        new("--keep") { Description = "With --port: also write all that comes to this new file, for 'acquire replay'.", HelpName = "FILE" };
    private readonly Option<double> _patience = new("--patience")
    {
        Description = "With --port: how long a reading is waited for before you are asked.",
        HelpName = "SECONDS",
        DefaultValueFactory = _ => 30,
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
