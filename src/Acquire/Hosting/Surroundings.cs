using System.Text;

namespace Acquire.Hosting;

/// <summary>
/// What the process stands in: its clock, its three streams, its user. Handed down, so that tests can stand it elsewhere.
/// </summary>
/// <param name="Error">Prompts, logs and errors.</param>
/// <param name="HasKeyboard">Whether a person can press keys.</param>
/// <param name="User">The name of the user, for records.</param>
internal sealed record Surroundings(TimeProvider Time, IAnsiConsole Out, IAnsiConsole Error, bool HasKeyboard, string User)
{
    /// <summary>How wide results are written where there is no terminal to fit.</summary>
    private const int PipeWidth = 160;

    /// <summary>What is typed, or written to the process, a line at a time. Nothing unless it is set.</summary>
    public TextReader Input { get; init; } = TextReader.Null;

    /// <summary>The stores that were opened, to be asked at the end what they left out.</summary>
    public List<AcquireStore> Opened { get; } = [];

    /// <summary>
    /// How long a command has to end when the process gets Ctrl-C or is told to end; null where the process is another program's, whose
    /// signals are not for the command.
    /// </summary>
    public TimeSpan? EndsOnSignalWithin { get; init; }

    public static Surroundings OfProcess()
    {
        if (OperatingSystem.IsWindows())
        {
            // Its old code pages have no −, ≤ or Δ, and a file or pipe would get question marks for them. No mark of the order of bytes: a
            // reader of CSV or JSON would take it for text.
            Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
        }

        var keyboard = !Console.IsInputRedirected && !Console.IsErrorRedirected;
        return new Surroundings(
            TimeProvider.System,
            Make(Console.Out, Console.IsOutputRedirected),
            Make(Console.Error, Console.IsErrorRedirected),
            keyboard,
            Environment.UserName is { Length: > 0 } name ? name : "unknown")
        {
            Input = Console.In,
            EndsOnSignalWithin = TimeSpan.FromSeconds(10),
        };
    }

    /// <summary>A console on any writer; a redirected one gets no colours, no control sequences and a fixed width.</summary>
    public static IAnsiConsole Make(TextWriter writer, bool redirected)
    {
        var console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = redirected ? AnsiSupport.No : AnsiSupport.Detect,
            ColorSystem = redirected ? ColorSystemSupport.NoColors : ColorSystemSupport.Detect,
            Interactive = redirected ? InteractionSupport.No : InteractionSupport.Detect,
            Out = new AnsiConsoleOutput(writer),
        });
        if (redirected)
        {
            console.Profile.Width = PipeWidth;
        }

        return console;
    }
}
