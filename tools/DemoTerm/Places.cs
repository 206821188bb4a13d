namespace DemoTerm;

/// <summary>The names of things in the college's darkroom.</summary>
internal static class Places
{
    /// <summary>The line of the evening class.</summary>
    public const string DipTank = "dip tank";

    /// <summary>The line of the staff.</summary>
    public const string Machine = "bench-top machine";

    /// <summary>The calibration plaque.</summary>
    public const string Plaque = "college";

    /// <summary>The densitometer, which both lines share.</summary>
    public const string Densitometer = "bench";

    /// <summary>The port of the densitometer.</summary>
    public const string Port = "/dev/serial/by-id/usb-serial-adapter-port0";

    /// <summary>Key of the process sheet.</summary>
    public const string Process = "c41";
}
