namespace Acquire.Hosting;

/// <summary>What the program tells the shell. Scripts rely on these numbers.</summary>
internal static class ExitCode
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>Done, and the command judges: out of control, or a test failed.</summary>
    public const int OutOfControl = 1;

    /// <summary>Wrong usage or bad input; also a reading that the user cancelled.</summary>
    public const int BadInput = 2;

    /// <summary>The instrument cannot be reached.</summary>
    public const int NoInstrument = 3;

    /// <summary>The store cannot be used.</summary>
    public const int NoStore = 4;
}
