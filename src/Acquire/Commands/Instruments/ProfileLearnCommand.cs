using System.Text;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Learning;
using Acquire.Instruments.Links;

namespace Acquire.Commands.Instruments;

/// <summary><c>acquire profile learn</c>: makes a profile of captured lines and what the display showed.</summary>
internal static class ProfileLearnCommand
{
    private const long LargestCapture = 4 * 1024 * 1024;

    public static Command Build(Surroundings surroundings)
    {
        var capture = new Option<string?>("--capture")
        {
            Description = "What the instrument sent: raw bytes, a text file of its lines, or a capture with times.", HelpName = "FILE",
        };
        var shown = new Option<string[]>("--shown")
        {
            Description = "With --capture: what the display showed, such as \"0.26 0.62 0.80\"; once for each reading, in order. A word "
                + "such as HI stands for over-range.",
            HelpName = "VALUES",
        };
        var port = Common.Port();
        port.Required = false;
        port.Description = $"Learn at the port, and be asked what the display shows. {port.Description}";
        var live = new LiveLearnOptions();
        var channels = new Option<string>("--channels")
        {
            Description = "The channels of the display, in order.", HelpName = "ORDER", DefaultValueFactory = _ => "R G B",
        };
        var name = Given.Option<string?>("--name", "NAME", "The profile's name; that of the file when not given.");
        var output = new Option<string>("--out") { Description = "The profile to write.", HelpName = "PROFILE", Required = true };
        var command = new Command("learn", "Make a profile of what the instrument sends and what the display shows, at its port or from "
            + "a capture. Writes nothing unless it proves itself.")
        {
            port, capture, shown, channels, name, output, OutFile.Force,
        };
        live.AddTo(command);
        command.Validators.Add(result =>
        {
            if (Problem(
                result.GetResult(capture) is not null,
                result.GetResult(port) is not null,
                result.GetResult(shown) is not null,
                live.IsGiven(result)) is { } problem)
            {
                result.AddError(problem);
            }
        });
        command.SetAction((parsed, cancellationToken) =>
        {
            var (order, file) = (Channels(parsed.GetRequiredValue(channels)), parsed.GetRequiredValue(output));
            var made = Name(parsed.GetValue(name), file);
            var whole = OutFile.At(parsed, file);
            return parsed.GetValue(port) is { } at
                ? LiveLearnRun.RunAsync(
                    live.Request(parsed, at, order, made), whole, live.Keep(parsed), parsed, surroundings, cancellationToken)
                : LearnAsync(parsed.GetValue(capture)!, parsed.GetValue(shown)!, order, made, whole, surroundings, cancellationToken);
        });
        return command;
    }

    private static string? Problem(bool capture, bool port, bool shown, bool live) => (capture, port, shown, live) switch
    {
        (false, false, _, _) => "Option '--port' or '--capture' is required: the port to learn at, or a file of what the instrument sent.",
        (true, true, _, _) => "--capture and --port exclude each other: learn from a file or at the port.",
        (true, _, false, _) => "Option '--shown' is required with --capture, once for each reading.",
        (_, true, true, _) => "--shown goes with --capture only; at the port you are asked what the display shows.",
        (true, _, _, true) => "--baud, --keep and --patience go with --port only.",
        _ => null,
    };

    private static async Task<int> LearnAsync(
        string capture, string[] shown,
        ImmutableArray<Channel> order, string name, WholeFile output, Surroundings surroundings, CancellationToken cancellationToken)
    {
        if (new FileInfo(capture) is { Exists: true, Length: > LargestCapture })
        {
            surroundings.Error.Line($"{capture} is larger than 4 MiB; expected a capture of a few readings.");
            return ExitCode.BadInput;
        }

        var input = Input(
            await File.ReadAllBytesAsync(capture, cancellationToken),
            capture,
            [.. shown.Select(s => ShownReading.Parse(s, order.Length))],
            order,
            name);
        switch (ProfileLearner.Learn(input))
        {
            case LearningResult.Learned learned:
                await LearnedFile.WriteAsync(output, learned, surroundings, "by the whole capture", cancellationToken);
                return ExitCode.Done;
            case LearningResult.Declined declined:
                surroundings.Error.Line($"No profile was made of {capture}, as it might read wrong:");
                foreach (var reason in declined.Reasons)
                {
                    surroundings.Error.Line($"  {reason}");
                }

                return ExitCode.BadInput;
            case var other:
                throw new InvalidOperationException($"{other} is no result of learning.");
        }
    }

    private static ImmutableArray<Channel> Channels(string text)
    {
        ImmutableArray<Channel> order = [.. text.Split((char[])[' ', ','], StringSplitOptions.RemoveEmptyEntries).Select(Channel)];
        return order.IsEmpty || order.Distinct().Count() < order.Length
            ? throw new ImpossibleValueException(
                $"'{text}' is no order of channels; expected each channel once, such as \"R G B\" or \"V R G B\".")
            : order;
    }

    private static Channel Channel(string word) => Domain.Densitometry.Channels.Parse(word);

    /// <summary>The name as profiles allow it; from the file's when none was given.</summary>
    private static string Name(string? name, string output)
    {
        var text = new StringBuilder();
        foreach (var c in (name ?? Path.GetFileNameWithoutExtension(output)).ToLowerInvariant())
        {
            var last = text.Length > 0 ? text[^1] : '-';
            _ = char.IsAsciiLetterOrDigit(c) ? text.Append(c) : last == '-' ? text : text.Append('-');
        }

        var made = text.ToString(0, Math.Min(text.Length, 40)).Trim('-');
        return name is not null && made != name
            ? throw new ImpossibleValueException(
                $"'{name}' is no name for a profile; expected lower-case letters, digits and single hyphens, 40 at most.")
            : made.Length > 0 ? made : "learned";
    }

    /// <summary>
    /// The bytes as they were received: a capture with times holds them in chunks, and may say how the line was set; any other file is
    /// they.
    /// </summary>
    private static LearningInput Input(
        byte[] content, string file, ImmutableArray<ShownReading> shown, ImmutableArray<Channel> order, string name) =>
        CaptureReader.Read(content, file) is { Kind: CaptureKind.Timed } capture
            ? LearningInput.Timed(capture.Chunks, Link(capture), shown, order, name)
            : new LearningInput(content, shown, order, name);

    /// <summary>How the line was set; a server that passes raw bytes sets it itself and tells nobody.</summary>
    private static LinkSettings? Link(Capture capture) =>
        capture.Port is null || capture.Port.StartsWith("tcp:", StringComparison.OrdinalIgnoreCase)
            ? null
            : LinkWords.TryParse(capture.Settings);
}

/// <summary>Writes a learned profile and says what it is.</summary>
internal static class LearnedFile
{
    /// <param name="proof">What proved it, besides its samples.</param>
    /// <param name="cancellationToken">Ends the writing; the file is as it was then.</param>
    public static async Task WriteAsync(
        WholeFile file, LearningResult.Learned learned, Surroundings surroundings, string proof, CancellationToken cancellationToken)
    {
        await file.WriteAsync(learned.Json, cancellationToken);
        var samples = learned.Profile.Samples.Length;
        surroundings.Out.Line($"{file.Name}: profile '{learned.Profile.Name}', proved by {samples} samples and {proof}.");
        foreach (var rule in learned.Profile.Rules)
        {
            surroundings.Out.Line($"  {rule.Template!.Text}");
        }
    }
}
