using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;
using Acquire.Formats.ProcessSheets;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Hosting;

/// <summary>Turns the faults that a user can mend into a message and an exit code. Anything else is a fault of the program.</summary>
internal static class Faults
{
    /// <summary>The exit code for a fault that the user can mend; null when it is not one of those.</summary>
    public static int? CodeOf(Exception fault) => fault switch
    {
        StoreException { Fault: StoreFault.Duplicate or StoreFault.NotFound or StoreFault.Ambiguous or StoreFault.Conflict } =>
            ExitCode.BadInput,
        StoreException { Fault: StoreFault.Refused } or ExportException => ExitCode.BadInput,
        StoreException => ExitCode.NoStore,
        LinkException { Fault: LinkFault.BadSettings } => ExitCode.BadInput,
        LinkException => ExitCode.NoInstrument,
        BenchException or GaugeException or ModelException => ExitCode.BadInput,
        CaptureException or ImportException or ImpossibleValueException or ProfileException or ProcessSheetException => ExitCode.BadInput,
        FileNotFoundException or DirectoryNotFoundException => ExitCode.BadInput,
        IOException or UnauthorizedAccessException => ExitCode.BadInput,
        _ => null,
    };
}

/// <summary>What the program tells the shell. Scripts rely on these numbers.</summary>
internal static class ExitCode
{
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
