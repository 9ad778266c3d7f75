"""The sample points behind every range: a scrambled Sobol set, written down.

Written down so that an archived range comes out the same under any later SciPy, and because importing
SciPy's own generator takes longer than a room's whole year. A test draws them again and compares.

References
----------
Owen A. B. 1998, J. Complexity 14:466, DOI 10.1006/jcom.1998.0487 (scrambling), by ``scipy.stats.qmc.Sobol``
with ``numpy.random.default_rng(20240229)``.
"""

from __future__ import annotations

import base64

import numpy as np
from numpy.typing import NDArray

#: Seed of the scrambling; changing it changes every printed range a little.
SEED = 20240229
#: How many points and dimensions are written down.
COUNT, DIMENSIONS = 128, 16
#: Sobol points are multiples of this.
STEP = 2.0**-30

# 128 x 16 big-endian whole numbers of four bytes, in multiples of STEP
_POINTS = (
    "H/i6hC3CVhk4sSgsPIQCFi2IYH4lODDTBOtIJCVvdD0QsQR8ECg5Oxh7/P8fnRYQPo5vhzCIydA4UOmeKJE5HDRIh1ENa7joEum9"
    "CQmq/9kePb2WG13eZzjerJoJ5X0ZN8cPFzQ+bzEzBI7JPPAGphPM/DwSQRJvGUN6JQ1fcn4kZ2+PMRMVDSpoOyshytDNCMvdiwkh"
    "VSgYT+6nH2O/DShS6+4nVlYvKcv0WCufWM0mh99MKxwQ1ARi7Tw5u94jD9dSWhG6+/wAMK4OFOQtAjt+AGM3RLucJHoKGTPptikP"
    "JOCFA0AAJQK0hm4I8kh7C8VM9wnVy2slcX6HHHWVQQS/c789vxqtGgmA4Rhu35QwPDxcK/1YlxJ3nR0Wno0kI8LuijqSmNsnLfVX"
    "BOernijcPv4a4Kf+Ll4owRfg96ovD05qHRb0XDBRFcQtQCJbA4nhtBWYtiMuQnmjOhSEAAS05eEehM7RDFKHYSeKuygFnq1FOCl8"
    "QQ9Nu3oyLrzIPyCmtCFuWbkI0JPmBSANTxV/gakH5D1sDtM7niySRhQbIQEYDez3zxad/fAw5eVDMNWONQF0fvoSbCxjBsoQlRSQ"
    "m2EBx7dIIogGwzAO8IAmylxBOYHT2DLm3yAAGE8wPFcKcyn6ocU94o/GE4j19R2XHY4jvaVFM3+/2CMEW/cSXX2vNkg2tg7QBNQo"
    "XecdG+XwKzAiHwwW32mNEVlQ3iUjN70FQMFoO5r3YRgWgTICX4toBN8OKgHmQu0RGuMROe1Aehbh2EckiJHxHXMa0ihQLcMOR/G4"
    "KuqNMz3TWfoCVTzWIVaXYhDlhVc7e5GELx0Y0yYW1ZUg9dFWNNSocynCqKQqmXWiHAkX0zUTNcY+pk3eHDt69wp7zw4rVZvuHcDY"
    "LzI+rnwKKv/GLBTP7xpWO6MfS9cuPdRGTwAwBC4CcpVxCjCbUzZRgvYAPcgJDROQNiJelEM2TiuwB9+Syjq200QWKPh2IVWN8A95"
    "31k3FKgYPYIMkRzH1fQl/k9MCRq0lCY1egIsaKwZDLc6nwZRrAk+53dIAEO8tCKoqccWUN1LL/pgiATM/skDbDy8FA3aES63YAQX"
    "6IOyLmstpyKqiUEGnJTzBjA5PDmZx1A15HHhAIKZ/Dx2WAoOIqDjMSbWIAvsNoIvs4z/IAEsCjlPSaoMfru7NvsQCQulZsUyhWGf"
    "OuQ5Fj6xvx4R+ehEIxIR/BL+ErMc5xo3GKRi9y6zMtkYhA+cNXz2bjducmEMBGraNSO5ACvahxA/QcqYGTVcShpN1+cU6So7JNcV"
    "ixCnzBQsm/wHINL+iTQua9MJxTmyPJJZlh4DhFgUA2LXIUb5YRfqYr8KyRSrGo+B+hts70c4vNmYJsKc6Qc9XRk4CgO3A7SZVjvQ"
    "vK4aRbHSAbsJxB0j2PIcg+08B8BmPh9B+/8YwPAoI1RFZSpRAPYw3NKSGBU3aQyaCcwyE6DWC7/eXz3Rd+IH5VgQNs+49ibNAq85"
    "NY74N/yfCiStdogyA2hEOgkrlwJH1t4Pn0uUIPM6TCRtmow0G4/uGnOPwh1JvkIvrfytJ3QaLSBJeuI5WOZWKl235i0z5Zszwijj"
    "B0hLNANUKSwfZkHHO3vnyQtDB5kExHR9HkMayy9dcg0u/GOqEcgSGRtB/pMMw3PGHi7tPQ5L4ewGTJetEK84VSoK2I8hnfKTPnXS"
    "fB61rKsAKyZ8KMGVLAR6NCQj14CbJb5flQ1x8RItTGmXKbRIyzLI4zI3mXkSI9XklBy627AJE6qGMqieBjVahDoVIM5AK5sbqQho"
    "e90uIqEBFvl9VBYLgn0zFB+mEXmNKQU+Qe8VvuhZE48vGAiqlqI/18sGJFE5PRBhRbkUSReBMO6FIju083c0ENY4FqMnIz6ZUkAA"
    "/eJgIWiU6THozxQTuIP7CisMoADnFgYSZewzKLiVbREaGk0pPEcCCWiAmAQKKX8QBM6iFLk4yTz7sgYLt6+PM0g/iB8Nel0N3Suq"
    "PzKK3y1dB8sk8UAMORqeBQvVhds8WIn2C/WcvSh7EyMhxGIdFskobCM2uTcQo7ARE+S4Eg5nk+IWrraJKeSdBy5zlTE0KToFCEsg"
    "oT9i5qIAS/EcI5AfECyXN9Ia4u4WE9ra+z15FbkDn1fGOvslNCbKRd090k4KKMtYPRXRebkC+ZwVE18xbixddqsUHZSUIybhqg7S"
    "jKsOXuxtO/F9rTYUkZktVv1nP+f6IwJ6oxYOqmrJKyQuFzq303I1QDuEFH9eAQzK1Zc/NU+1DtLuBTRJv8E7ma/bNwPu1ibQ6rQC"
    "8D3EBubAsh9OFNIoIjYzO4SXBhiR8/8E0j3GCXXfOjj1VyUrvN78GyMZvyWtnDMXJK93Fts8YBXKNWkHw3kPJz52pg2O4VczS/WD"
    "MhsY3DcOZZAT08/AGGvezT94SD4dgmwoB1rQ8yLxgUEANO8KGzFMkjXCTmkG/1n8DOwvSSyrFE0mPtyCE+IbchhDjfkCIJhfIGYS"
    "KCYOMHkDTayAMQhlDCAs25gG59dLK0udPDhcXCQYgN3SJDaCQy3/vPIJZV8vNhE0XC+atpcgwgvbKkC3SzaQcjU0crs2I9zuvSeO"
    "pxg/uT9hFY/uVTGE560vMwJPLcv+oh1rgPgw3ivrPYHzch2hCYkPM1hmCpqe/h9uSoQFJa/dChdVgh/pCgMLBK48GM80CjGZuF8a"
    "+5WbDF4S+QCJbRk/oltHEc24UBhPuBAcLoduMDtcmx02ECgKXWVsJ0bXGgWomAgm+2IXA3xDgicVYSwS5XSUDYQ+6CE0GJMuHct6"
    "B8QVkggio40tteq0N566uxCSsmo3boUNP3OYoxTzCvI7zXa8Gs6GqS/2SqYAY2pHNvMinib7TN4CWQglA19YwSUNzi0pMTA2CHuh"
    "1iexUmUs6h+PD+8DLxcTt7cCBWrvKbH98zpfxJQ5cIiyH/aOviWbG4A8NDZPFTZWTjYUe7EcUMyWNBCnLzyfDYsMAW+wDEPxfiW3"
    "lgoiPUp4MbC3BxfUE0cGaiAqFfqBljiAhdUBjU2KF0tEeTZbRvgbVugKPpkXKRUDNJQZUUbpB2lOVSBGEC8/jrjlLre47jryizgL"
    "bfBMMGe3LjCNupsUZovaOF/VdDLSN0A6TqUdOE+aAy2se7weLGLSEsQkAizZc4AA7/7eFdYtwBuZRSEJR1bQNQge+AxSU5AcB7O/"
    "MxCAsRxJg34ZrUV2GSO1qxUNCbgPZaADPz/xaTcKb2A89ptePJdTOy1Xq+Iz+Wo1H7E2zSd0lbcswxGtCoFxqyyFZEgPIbpgA2I/"
    "5w5M68AgRirINjiiuCIeZnAD7sM9F0amixw+vcoHDz7HBteX+iwE6yUZEXsDEPb1EyYLeI8L828jKzfsaigdTdEtIft2DQS5cxTx"
    "eQcDDfXLJiCIXxGLQEUrsTw0K1c80B6EgGcRK0dPELK31zTPQ743SmdhEodS7QeNjMcuZTV2Jr+PsRLML5Uzk9JoMZQI/hQ+MLk6"
    "O32QCxjSxQEPqfUrqn2oIp6apy7XWWMI+qcAG8BuRTXxWYYjm9rNBRpHQAXSnwc/jrwuEVoJ1xCHm0Ux8HvbKhSVTjdgfyA5ji/X"
    "A8pSvDRo+ro8q9IsKGvlPQ1GrFEqZL1/MPPj0x/VPdESvcFsCsWfXigHC2wNpgxcBRTXhgGkqJsXyZHRE9a68jbkr3MH3SdSAs48"
    "mBReAYMhzKV1DRK2FBTltdk0qk/nMdDR2ieHDOUKztDTLLWf5yDanOQKzIl+O8xwgAnvlB06bl3lDJ8bbR5335MiU5aHBLueeCH0"
    "uBstNy0nETM83j3FMj8Enn7sGfu8RieayaErT/4PIXy0qxtlnnEjtwE4D0CgKj8qxoUgEjEnHmZyOSgxl1wGgrNwCSF7LTpMTuge"
    "qCKJKdztVzsyZ/kGiVoaDoG1bTFTXHUnHTOUGzaHGicgjz4p3KaYMm66aD73MAQ+t1VIGRdXiRpJQjMggzR5Ccd84hyXzicCb2VC"
    "G6jNAzplGTAa42GgB7TdZTFuEj8SDnLxGml7cAwLVNwCwtS6Ej1cbD5hXOI+XxQ5C/xGTyqqbFQx1V2cIKa+/Tq7Xrgfq1JSGLrS"
    "rSVF0xoDRaTtMeQ6YzLEtNMjJDGNGcCWnTxWhm02H2yUH+6VXQl8Lys5aWi9D9JfAi+MLGoTJg92L3XTXjMK73gF7D3rKR0xyATK"
    "x6wBcWk7HUHfOSX1ciMQ3I9JEWln/zv4w1ciA10dGgR4CyKQzLkNRffVMjWczQq7mDwjJQemOZSQDhGct+osqui4F4cJJg89VHYF"
    "ZDAeBlpNXQ78gwYokPpJOMwnjA1rJmAX2+/JNBj1bi8UC9Q+XzRhCJU6cxk9fv87xCLPGYQVdyQy1M4xWLrCOVHUoCrQRHkpioht"
    "DIasQxOzVbouBjbWOpl8chbRLtEOB5hvG5F/AwP9G5Y1OJ+uIf0MIBUO5+EvcOjxLeFZyQ9cQ6QPp390BWyGYjVUNL02KiaDIhPV"
    "MxmADnsF5EJEBSjOKRAEHegoTSZDFZFxXwulmQUgIBouHMU1GROEt30zaacaIy12UCIajQkRQmK3HVVUtQF+xYU0wp3AJy2Z+yQ7"
    "XZI1ylaKOGLOnSnp3LozJB8nCEA1OgozVQQB+DwyE/jlJzWrtEQ9j2nwAipbqQeaLiQWEZvuAYm+sB5wm0A5GsqLAS761xPS80gJ"
    "QDJLGXyKAj1uyPU5hojsP53Shi/NAZkZIb1gGvlimyY8DaMs5VwSNXyLWCzLLQs8uUD/GAlZMCTgsbUVHxWGPs+ztTUkiBUlPd9o"
    "BKkkhjY+HlIL9Lc0CGCijgONX1UKhm0OKp0ktT7i/58zA7vtG9vrkCqQpAUW/glTPq8oUx5mXUQffB0wEBMipzcc+W4IW/DmN8FT"
    "iiTqq6ok+1Q+LpA7BAHiVoMdj+8pHkEoVjkSMC8Lgze+MzBCMS6AwI0iHvChJ/2bEjhzDbMh6plzGid7qRdQEbcybGm+O26wxz34"
    "AhobLSwSCuCxQisKCyYATzKUFqKgpwfU7mwFMP1YArceUA2lDjcNXfB8El9EmyRClR0rZfUJHuZgmhwYu6wZ7lQQMFJeJCmNofQG"
    "SJidIobpKzexMxwiGqUODljcvS6y/wEXnCDYAdcC6hkdeKQ4+3YWHWhiDTuRW5cw/rWjIDzM7hXLLR0lmEIRJVHqlDGzhb48nmVa"
    "KY/H5SXo4WgOGxHwPcS1/TT5/yUqqKVMBp6YoiFdhrMXG1KzF4i+yAQqmuQ+tF8rBvVSpwgTeS8Tel4BHY324QxBjIc1xwm2MmO8"
    "FQVFM98cmdAxPF7FURTiE+0BzMSOAZ2QpwgdWjEXQqP6JHsluhGaDMw9WFpfKidcugCsYfg4pSDaHnc0YxLKUuQvHab6Kbct/g/r"
    "GLkqh/1ZPfkgMC0XmYMva1FaM1T18A8EV4wy9xx6EBrJ5AjuhwUhv/JDHWtruB7w0XM8HuhGBpXpRBDe/4gUSp6ePgtLJjFxKHkq"
    "WQzaOFrpvBQ6QzYhq4OuF4svTiujMC4T5NgUBnvrcw316EA1QOymHLcGtyzNfGEl8AJHJ/9DdgBupZINRMzHBtMF/h8s4tcwLBU8"
    "CtTxmDTmP/gG4aOVMS0DqydoeMgoO6MiJW8EeCDPq1IUTPpDDZAtUzEJI2sSEi7dLdWO+hBVx+oAuQYuI0QsIhAbiwkjiWGTM6qA"
    "5QhwARA6Se/RHN8Pfw7fOa0AZkWjPhRvZji+0JwCvP6DLHfAaRHgakQ8387OJ88NRQdSeig7ZPk/AORxJR7oE14qudqvG1p8ajkR"
    "RB0FtxhILGOk8iQtQYk0NCIKCf7CvDDOI2In7f1AGaj1wwspA0o+gOLWHv2KBgzxksA98WFXOYy2OhB1KiwyhCb2LgclnQzKSgMO"
    "ddSsARrfxTpLH1QOq83WG9gZ/jUi/OcsXwghGpa03DWC+DAvnIJ2ELPy7BtFbYUxZrmXF0ptlD4ozUMwsufmNvRSjil68NEsvX9J"
    "HNdGmTtJW8MjpD7zM8rs2An+jcIvTYKhOPPcHSX40ZwiGG8+LEcujiOuwckVmPCWEBsJFxysx6scVA0eHwiioSKyqC0HfL99Dy43"
    "1xS857Mt6NvIBDLwlxuezKsIukInANG0gQ1UvTUGYIqrE1UWWCeUiOkw9MW8BAcagyInDssrEWT5I0UJ0B5vKDkNyNp9AVK7ZQJK"
    "iDAQALhsF3LUwSezH+4/zUAANH4yTTjlK40HPWYYGqxQmTEp50wRktMjFXSKTR9w7W4y5SEdKr7RFiVE7W8pNfoGM22o2jowR3oF"
    "esRRHt7TuxGweS8oysNTO0XL/SIt1rsZSchYB2SzPgcIAQI/4a9TJGPjCTUrNe82LNRxM/qAlyQC9rEPe2QKPCfG6gP/RKIlVNVy"
    "A3r+hhvsJQwIdUOeLGc1lzTRbtY5be+2A9RL7Qjp6i0SXT6EEjqCexiF8qEHb+YHIjn3sR7uHVUi7NcZAJqeEAgS32M36cRdEkxt"
    "cSDtxwE/k1LpJdQMvTXZ3OktntEgPrswiyvoGoU9HIGYC3oF4gEghbgN23HAKcOBXwsP/PsjouK2F0AqrDgU+FQVwzrODCaPARux"
    "4gkJ7DhXARTYBBnNO+AP/kyPFmPzrigXFVQsYhYDLxKqfwjQEuQuwbeZM40KaCs4h0kAlX52PaMV2hrQ7xwJzWlGKX16aheSGhAG"
    "WN8ZHJZ1kQysiT8/eEs/GSk1cxZPqMQV8YX9GiUbxBg9N70LkWm4Ks3rUwiN6BUpZTL0N6iH8hVIntQ7GBM0IS7UcjiAI5sn0/sJ"
    "HBVbiTRrpsg0hnN7NOIWRj/rUKYaZISwKWBnxxjmXYErZ6CHAcj9VxiH4qMOStzzFXPJNSlQ5AQZMaL/JVOSbQ/WX2AKbKRWO6zh"
    "7B1/R4gPNdGqMdS5ZQnJiTYyvsikHkldSDJ9IL8m4gwXMn84TTn5wBEOJu9vPSf09Q4s4Fssu0/WJy437RllOlM8bNQzKvuayCH7"
    "Ubs1sSTTCj9OhjYpclwki0CiNJ6HWBLuenAvfwIFEbMLli5PzesU45rKO9QRvRJlFJ0gODjoIU1DKh4fNpUKS2xuFRjKIiBn26MD"
    "B4+TFz6dSgr7aewu257OA/ULITbFAP0KWZvhP5zo/Bi5AQs/J4cmAvHjVwBe0JE70X33ASNNizkdK3M6XvVMD419BRx8oXUWQorn"
    "GNYJyiaCMCwaIw7yM4sDHxoFm8UUrOLuHD71LxHEj8ILcYbXMEQfHCqTcF4ZtMWCEAZgaTqjgMovyXydKCdkUyTj7XQKCDkIPVUF"
    "mRedVRUxeunzN8HyWDF8ZpQzDVR9KmIVbBWKVH46vJiAJcxoZyiH5ksSw6/eOT8cgDpb7xwEcq9JHI77HCLA4WAE9WwLK7WTYiCu"
    "rDMEN0XkClBWxjdDgnUhbvgjEQylVQVlhpYC33NuJ+1SEQqKwWgEPgGoOEdL9zAE8jgFtuoLIOM6AQDK4VQDw7yFKXXWXyiZjXkW"
    "UBHOBKCzQRfBQ5sy6gdoLodxeT++RYw3pW0CDZ3NfBx+/VohRe3WHMLXxQxZWqwGspnzCF3IQja9QLkP+yYWJMns+za+C6c8cX5O"
    "EkPpmQTf5FwKkLhDBBCw6jP4I8ggSxnkDc/k8ju03K4oTwymLc3rxSsw2PQb/9MCLTL9qQXaf0ATcEDFLF6WkC47RHw8XmJ+IvCX"
    "VxLm0PchhKiHANpb2RtJJuYkIThXOyc1uDcCkVQ8X4afLrTwchRv/xIY++hZJ5TsmAfuq0UOkqqNFgb3WxfeapghUw0fH+FGMzzv"
    "v2c3wy/CA1czPB8xY7IcfeNiHzKWKQP2Y8k2piStOeh74gJap/oMhoqgIpdL3Aw/2bQbVJgOKhExIANYpTgK4ihjErQUzy+xPTMm"
    "4/tMOeSQWxMndcwg7xHAJZNIODLHLaQJz8URJza3dQI+pS0mZ0yRLnplwRmk7Mg9PUuMNtfM3T4+HesIxzZYAvWtRhKb4m0wSmV6"
    "Da2Cewdak4cT1L4fLAGOczcZX6s+RgjIHubKswYaStUPUozVL0HAwxZGjuAouN//F1LSoRGdlFgIVJj8JyU7ETjmoQs+B5E8DvUp"
    "BhjlIi4cqWJ+Hu/mOTS+X5YzNLcaPOdRPREkLncqc2peBDLW2zAk2co1i8JSIyvqygRIK6cVpDKwHM5Kgy/mur09K2lMHSbsmSHn"
    "4sQjEtFAJgeY8h6EKfoem+P9E2ECSgxKO2UP/ozsFvcOmTRUQbkpIiHNOzCU0ySoBFY2CaFgCNE76DaW0UwBTgw1CUpEZRMpZT0t"
    "MfQSIP4NSS9U5vQgwDJBKIiHhzLhWJMfKzOPCk8xexZyB2gGYd/pFxoy2y0fcIomuTmSPTah0DHLwkc7SUopO8eUDzKChgYPxaTJ"
    "NkbwVTcdY34hiWGNBeRJHh0gbxAjOSQYPzzdUgo7pcIZ+9zXDQkERx2fTyEbk1diDme35ghySecM52iyM/BAdxrM+XEQa2gVBZ83"
    "hy6bOyg+TX+mDnu3ox31Bu0rKDZ5PDWXtQZhJaIxmq5wAap5jQLtRXADMHXYEF6LuQX913M/u8J8PI1mGjxNr3kLAkgRMlicQy1i"
    "xaoOwGp4IAdgPzeg9V4t0Rh3ETNAgSvy7Kg3w7i/MIWoMC47ZQ05yDPNEzHLWBv7bXEYW/lzIH06JxE1jPUAIFYRLAmxxwEU84QS"
    "br48Pf7wqS1L7WQTc2qKH6OXqyZzyC08R+5CGVlx8AW3CUwEbomICzPAbTqyQLYGWtKeNWt1YRVUs3wcNWSdJooSYRZOzXwN4gOV"
    "OSv/ryqNamQVxhXFAiIA9iVslU4pPQBoIxiC4y8llmcRzTKAJTfCKBgp5to3nWjDPSb3JgNEWQMQgyuyOm2CaxVz/bgy3n35KOm5"
    "rwuBzCIBVSPjOHwfhjpsvy0Dn/bKF7VKJy6ptu8H4XA8EP/DrA+/ChMxWuHlOzMWZxrEbJo/K2idB/CANhtcZEc15CKWPWDHXRT2"
    "FqIdGrRGJ4mgwDzKOBENxKZZKqPjhzI2GBMurJmoFJSqhysc/rkmvMF/B6ruvy+QryINqgRaJ5ip2R3xhWACcNS2Ao9QvzThmd4m"
    "BUKAGqv4Mh/owPcLaxqoM40OsSBwBtoArMNsBhUvji3ye5oavlLtPh/Zshn9R20hxGHeLvrdkiX5W9QQ98/UDXowtjnG6IQyqlNM"
    "KaLBFxKenQoFvk24C8TiiSoQzt83y1V1FjSgezVd5Y0FRKRmF8n22guN5p8JH1XbKSVXKijjQ4810wthEbMhRTqXrYIZsctMDisv"
    "UyB031wKuSAuHZPAUCMaXbQG6DhlOyFK0iv8EmQnB++7LmlesA0zASADnDG5Fr4b1zzxsv4YXnY9OKJY9yvlZDEwWzeCNsGNyyUS"
    "RnILenKgEB5YeCldwZ0LbVBZMYEtrzH8ukkeWzg+GVNLKAHRRbwJupGOIQN0hiWDz+4fAchsG+sKVxZoYzoPStNXPlSPbyOrhZAX"
    "OC8pN1i05x0LJIsWirEiOk1uNDIsOR4ivFUKJPgCNQPKrzkEkFxVOs+DDhmyuVo0mW1FPWFlhR2+x/0LBkozOBdKeCxa9sAzYP6K"
    "HvSBVBv871AwrFB6MX9R4xr/AKsM4D2uLQ0NmwoRAgIyAoSPFDCDtBc58KAokDoyOLOX2wZypMwQbxJ+H+r3rjmCij8/6rlaG9Mi"
    "TBISQVU3vZMQLinmEQweniAv30lgIi1sUShILlEvuHaCAPAVJi5F98YUDi+DMP5QQwlsNbomF27GLIKARAEcWN0FfR8+AvawYBd0"
    "5KoRPwk5GzvlPQmdUYQI4cCgBeDjpzXe6Okd8CouKmvBNwzLtP0l5jyeAWFlrQiU1k4qYyrrJhAPiC+0I9s1vT8VMCyagj71rl8C"
    "9XBhJOQh8R/ZzUg5VBp/FrIWETbSIjw6xiP5AJEHky2Ha6IxRk6wD/pZ0ioF7G0MrVHSJohTgDsDzMQ1YMy0KUVNtARNzwA1gVht"
    "DHrnsCUHy/kIt8yIBvPHRywbDrcK8WDJFVAYuiSFK+QJaPzbIe/CaQRBiD8aEF9/EK6H1jlqpWo4NWLlDQDeTyQayKQz8avkGstH"
    "xyZihXo6ncyjFWSEMAY4IaQ+SlF1HgeisBSk4Rk9HIqEBzHIZiRKK4sS2pi/GJyMFCdYS2oRNDVrAER2DCSuqXMaV2HEFhfFhzIS"
    "j1siLneuFTUjQz1qsgY55nKiH9VROyYiW90BhGDpFBd+cS8TDeoLAEl9CWci9j1r2mYtDWWnPm7XaQdW2mkrZrKVDpQXAxNNW+Q2"
    "9MbBJi7kRDi3+lQUu6boM5rYDz+nQ6QPuuMbIVjcWDxJ3zkO3geOE2iLEwJbM9cr3NNNDBC5/iqCQQk4MinSFZnWdwtsd/8afiHr"
    "Nag1UxZUk20viKt6M8JO/hnZWnoUKfAtGChnkwEUAFwiynHqPVoRWROFXQc56ngXIv1TQwL2iBw+J1SPIyMjUCiJokoisD8wBDiW"
    "rxNroA8zgc9fIQcN4iuduns/ce7oHv+VVBHQGH0081ZsHfwuHQmCIXUhm5iqE2XHNAHq+O8JmjHxB350Ug9Qt0o/bkFeKbjhsC2N"
    "/3Qg34ZEI8gN4yjyAlA0pyNwGBVYYyQutuMsG1JMLY57TzB8tT0S35R6ArVntwzrFrkk4IqfH8evrwPgdJUYowK7E2pbrB2t41cU"
    "x+buGC0qVD9jUwgAOODpB2Qgeg7ja/kdPiaGMBZPxSOm9AwpJV3bNM9iQSO/Ako7YfK3MMMtrwWcO7EP0WgYNFak0w6r6EAg9rfx"
    "E1DZ9x2rWusZjDWSKHUF9glLTX4+h2MVHcHxhh9/X5QDFuy7ETlnkgXt0GA2KeZZMbSGrAhjQG0iIeFkB4C8mjdGj/021CjdOuEl"
    "JAU3lk0rgpbBH5TwrjgPuuQ="
)


def points(count: int, dimensions: int, *, seed: int = SEED) -> NDArray[np.float64]:
    """Return sample points in the unit cube.

    Parameters
    ----------
    count
        How many, a power of two (Sobol sets are balanced only there).
    dimensions
        How many inputs, at least 1.
    seed
        Of the scrambling; one other than ``SEED`` draws a set anew.

    Returns
    -------
    array, shape (count, dimensions)
        0 or more and under 1. Up to ``DIMENSIONS`` inputs share the leading columns of one set.
    """
    if seed == SEED and count <= COUNT and dimensions <= DIMENSIONS:
        whole = np.frombuffer(base64.b64decode(_POINTS), dtype=">u4").reshape(COUNT, DIMENSIONS)
        return whole[:count, :dimensions] * STEP
    from scipy.stats import qmc  # half a second to import, needed only here

    engine = qmc.Sobol(d=max(dimensions, DIMENSIONS), scramble=True, rng=np.random.default_rng(seed))
    return np.asarray(engine.random(count)[:, :dimensions])
