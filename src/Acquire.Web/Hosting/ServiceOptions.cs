using System.ComponentModel.DataAnnotations;

namespace Acquire.Web.Hosting;

/// <summary>How the service runs. Bounds are checked when it starts, so that a wrong one is told before a port is opened.</summary>
/// <remarks>
/// From the command line, from <c>service-settings.json</c> in the data folder, and from the environment, as
/// <c>ACQUIRE_SERVICE__LooseMinutes=5</c>; the earlier wins.
/// </remarks>
public sealed class ServiceOptions
{
    /// <summary>The section of a settings file.</summary>
    public const string Section = "service";

    /// <summary>The data folder, full path.</summary>
    [Required]
    public string DataFolder { get; set; } = "";

    /// <summary>Where it listens; port 0 takes any that is free. Beyond loopback only https, with a certificate and tokens.</summary>
    [Required]
    public string Url { get; set; } = "http://127.0.0.1:0";

    /// <summary>Where else it listens, as ADDRESS or ADDRESS:PORT; beyond loopback with a certificate and tokens.</summary>
    public string[] Listen { get; set; } = [];

    /// <summary>
    /// Names by which clients call it, besides loopback's, the addresses it is reached at and the names in its certificate.
    /// </summary>
    public string[] Hosts { get; set; } = [];

    /// <summary>The file of its certificate, PEM or PKCS #12; null for the one in the data folder, where there is one.</summary>
    public string? Certificate { get; set; }

    /// <summary>The file of the certificate's key, where it does not stand with it.</summary>
    public string? CertificateKey { get; set; }

    /// <summary>A file whose first line is the password of the key.</summary>
    public string? CertificatePasswordFrom { get; set; }

    /// <summary>For how many minutes a reading that came while no session ran may be taken into one.</summary>
    [Range(1, 240)]
    public int LooseMinutes { get; set; } = 10;

    /// <summary>The largest body of a request, bytes; an import is the largest there is.</summary>
    [Range(16_384, 1_073_741_824)]
    public long MostRequestBytes { get; set; } = 64 * 1024 * 1024;

    /// <summary>How long a client has to send the headers of a request, seconds.</summary>
    [Range(1, 120)]
    public int SecondsForHeaders { get; set; } = 10;

    /// <summary>How many requests a client may make in ten seconds.</summary>
    [Range(10, 1_000_000)]
    public int MostRequestsInTenSeconds { get; set; } = 2_000;

    /// <summary>How many event streams may be open at a time.</summary>
    [Range(1, 100_000)]
    public int MostEventStreams { get; set; } = 2_000;
}
